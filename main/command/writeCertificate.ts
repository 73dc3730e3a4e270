import type { Answers } from '../../core/contract/contract.ts';
import type { Job } from './job.ts';
import { LiveLine } from './liveLine.ts';

const WORK = 'certificate';

/**
 * Writes the certificate of a decided run, says on a terminal how far it is, and stops when the inspection is to end.
 * @throws problems of the station's `writeCertificate`
 */
export async function writeCertificate({ station, number, options, stop }: Job): Promise<Answers['write-certificate']> {
  const line = new LiveLine('Writing the certificate');
  const stopListening = station.listen((news) => {
    if (news.kind === 'work' && news.progress) line.tell(news.progress);
  });
  const stopWriting = () => void station.ask('stop-work', { work: WORK });
  stop.addEventListener('abort', stopWriting);
  try {
    return await station.writeCertificate({ work: WORK, run: number }, options.certificate);
  } finally {
    stop.removeEventListener('abort', stopWriting);
    stopListening();
    line.end();
  }
}
