import type { Answers } from '../../core/contract/contract.ts';
import type { InspectOptions, Job } from './job.ts';
import { LiveLine } from './liveLine.ts';

const WORK = 'certificate';

/**
 * Writes the certificate of a decided run, says on a terminal how far it is, and stops when that is asked for.
 * @throws problems of the station's `writeCertificate`
 */
export async function writeCertificate({
  station,
  number,
  options,
  stop,
}: Pick<Job, 'station' | 'number' | 'stop'> & {
  options: Pick<InspectOptions, 'certificate' | 'decimalComma'>;
}): Promise<Answers['write-certificate']> {
  const line = new LiveLine('Writing the certificate');
  const stopListening = station.listen((news) => {
    if (news.kind === 'work' && news.progress) line.tell(news.progress);
  });
  const stopWriting = () => void station.ask('stop-work', { work: WORK });
  stop.addEventListener('abort', stopWriting);
  try {
    return await station.writeCertificate(
      { work: WORK, run: number, form: options.decimalComma ? 'comma' : 'dot' },
      options.certificate,
    );
  } finally {
    stop.removeEventListener('abort', stopWriting);
    stopListening();
    line.end();
  }
}
