import { SerialPort } from 'serialport';
import type { SerialPortFound } from '../../core/contract/contract.ts';

/**
 * Lists the serial ports the operating system announces. Pseudo-terminals and some adapters are not among them:
 * let people type a path as well.
 */
export async function listPorts(): Promise<SerialPortFound[]> {
  const ports = await SerialPort.list();
  return ports.map((port) => {
    const friendlyName = 'friendlyName' in port ? port.friendlyName : undefined;
    const name = typeof friendlyName === 'string' ? friendlyName : port.manufacturer;
    const serialNumber = port.serialNumber && `serial number ${port.serialNumber}`;
    const usb = port.vendorId && port.productId && `USB ${port.vendorId}:${port.productId}`;
    return { path: port.path, description: [name, serialNumber, usb].filter(Boolean).join(', ') };
  });
}
