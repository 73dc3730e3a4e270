import { openRecord } from '../../../main/record/record.ts';

// Opens the record of a folder, having said that it begins, and closes it.
process.stdout.write('opening\n');
openRecord(process.argv[2] as string).close();
