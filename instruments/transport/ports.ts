import { SerialPort } from 'serialport';

export interface PortFound {
  path: string;
  /** What a person can tell the port by; empty if the operating system says nothing about it. */
  description: string;
}

/**
 * Lists the serial ports the operating system announces. Pseudo-terminals and some adapters are not among them:
 * let people type a path as well.
 */
export async function listPorts(): Promise<PortFound[]> {
  const ports = await SerialPort.list();
  return ports.map((port) => {
    const friendlyName = 'friendlyName' in port ? port.friendlyName : undefined;
    const name = typeof friendlyName === 'string' ? friendlyName : port.manufacturer;
    const serialNumber = port.serialNumber && `serial number ${port.serialNumber}`;
    const usb = port.vendorId && port.productId && `USB ${port.vendorId}:${port.productId}`;
    return { path: port.path, description: [name, serialNumber, usb].filter(Boolean).join(', ') };
  });
}
