import { listPorts } from '../../instruments/transport/ports.ts';
import { exitStatus } from './exitStatus.ts';

/** Lists the serial ports of this computer. */
export async function listPortsCommand({ json = false }: { json?: boolean }): Promise<number> {
  const ports = await listPorts();
  for (const port of ports) {
    console.log(json ? JSON.stringify(port) : `${port.path}${port.description && `  ${port.description}`}`);
  }
  if (ports.length === 0 && !json) {
    console.log('No serial port is announced by this computer. A path that is not listed may be typed all the same.');
  }
  return exitStatus.good;
}
