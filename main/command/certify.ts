import { exitStatus } from './exitStatus.ts';
import { untilStopped } from './untilStopped.ts';
import { runNumber } from './wholeNumber.ts';
import { withStation } from './withStation.ts';
import { writeCertificate } from './writeCertificate.ts';

export interface CertifyOptions {
  certificate?: string;
  decimalComma?: boolean;
  json?: boolean;
  data?: string;
}

/** Writes the certificate of a run that is decided, or on hold. */
export async function certify(text: string, options: CertifyOptions): Promise<number> {
  const number = runNumber(text);
  const stop = new AbortController();
  void untilStopped().then(() => stop.abort());
  const written = await withStation(options.data, (station) =>
    writeCertificate({ station, number, options, stop: stop.signal }),
  );
  if (options.json) console.log(JSON.stringify({ type: 'certificate', run: number, ...written }));
  else console.log(`Written: ${written.file}`);
  return exitStatus.good;
}
