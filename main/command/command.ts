import { Command, CommanderError } from 'commander';
import { asProblem } from '../../core/problem/problem.ts';
import { VERSION } from '../version.ts';
import type { BenchOptions } from './bench.ts';
import { exitStatus } from './exitStatus.ts';
import type { InspectOptions } from './job.ts';
import type { OpenOptions } from './open.ts';

const DATA_OPTION = [
  '--data <folder>',
  "folder of the record and certificates (default: this user's data folder)",
] as const;

// Each command is loaded when it is called: verifying a file needs no serial port and no database.
const program = new Command('reelohm')
  .description('Judge a lot of resistors with a bench multimeter: window, sample, readings, disposition, certificate.')
  .version(VERSION)
  .showHelpAfterError('(add --help for what is known)')
  .exitOverride();

program
  .command('open')
  .description(
    'open the station, which is also what happens without a command: in its own window where that can be, else in the browser on this computer',
  )
  .option(...DATA_OPTION)
  .option('--browser', 'do not try the window; serve the station on 127.0.0.1 for the browser')
  .option('--no-launch', 'print the address only, do not start the browser')
  .option('--port <number>', 'port on 127.0.0.1 (default: a free one)')
  .action((options: OpenOptions) => run(async () => (await import('./open.ts')).openStationCommand(options)));

program
  .command('inspect')
  .description('inspect one lot without a window; exit status 0 accepted, 1 not accepted, 2 could not inspect')
  .argument('[file]', 'JSON file that describes part, lot and plan')
  .requiredOption(
    '--meter <address>',
    'sim:, sim:SEED, tcp://HOST:PORT, or a serial port such as /dev/ttyUSB0?baud=9600',
  )
  .option('--go-on <run>', 'go on with a run of this record instead of receiving a lot from a file')
  .option('--certificate <file>', 'write the certificate here (default: the certificates folder)')
  .option('--confirm-cautions', 'you have read the cautions and the bench is as they say (asked for otherwise)')
  .option('--reference <name>', 'the reference resistor the meter is checked with (asked for otherwise)')
  .option('--without-reference <reason>', 'do without a reference resistor; the reason stands on the certificate')
  .option('--ambient <celsius>', 'ambient temperature (asked for otherwise)')
  .option(
    '--override-calibration <reason>',
    'use a meter whose calibration is overdue or not known; the reason stands on the certificate',
  )
  .option('--wait <seconds>', 'how long to wait for a meter that was lost before giving up', '60')
  .option('--json', 'print results as JSON lines on standard output')
  .option(...DATA_OPTION)
  .addHelpText('after', inspectHelp())
  .action((file: string | undefined, options: InspectOptions) =>
    run(async () => (await import('./inspect.ts')).inspect(file, options)),
  );

program
  .command('verify')
  .description('verify a certificate: every byte against its digest, every verdict, the tally and the disposition anew')
  .argument('<file...>', 'certificates')
  .option('--json', 'print results as JSON lines on standard output')
  .addHelpText('after', '\nExit status: 0 all intact, 1 any not intact or not readable.')
  .action((files: string[], options: { json?: boolean }) =>
    run(async () => (await import('./verify.ts')).verify(files, options)),
  );

program
  .command('ports')
  .description('list the serial ports of this computer')
  .option('--json', 'print them as JSON lines on standard output')
  .action((options: { json?: boolean }) => run(async () => (await import('./ports.ts')).listPortsCommand(options)));

program
  .command('bench')
  .description('serve the simulated bench as a SCPI instrument on TCP')
  .option('--port <number>', 'port (0 takes a free one)', '5025')
  .option('--host <address>', 'address to listen on', '127.0.0.1')
  .option('--seed <number>', 'what is on the bench follows from it', '1')
  .option('--nominal <ohms>', 'nominal value of the pieces on the bench', '4k7')
  .option('--tolerance <text>', 'tolerance the pieces on the bench claim', '1 %')
  .option('--manner <name>', 'speak as meters of this dialect do, such as needs-remote, one-command, talker', 'plain')
  .option('--no-pace', 'answer at once instead of taking the time a reading takes')
  .action((options: BenchOptions) => run(async () => (await import('./bench.ts')).serveBenchCommand(options)));

function inspectHelp(): string {
  return `
The file, with everything that is known in it (unknown fields are refused):
  {
    "inspector": "A. Example",
    "part": { "number": "TF-4K7-1", "description": "thin film", "nominal": "4k7", "tolerance": "1 %" },
    "lot": { "number": "L-2093", "supplier": "Example Supply", "size": 5000 },
    "plan": { "level": "II", "aql": "1.0" },
    "measurement": { "method": "2-wire", "range": "window", "integrationCycles": 1 }
  }
A plan may also be agreed numbers: { "sampleSize": 20, "accept": 0 }.
With a real meter, each check of the bench is asked for: open leads, shorted leads, no voltage, reference resistor, ambient
temperature. Then put a piece on the probes and press Enter for each reading.`;
}

/** Ends the process with the status an action returns; a problem is one line on standard error and status 2. */
async function run(action: () => Promise<number>): Promise<void> {
  try {
    process.exitCode = await action();
  } catch (thrown) {
    process.stderr.write(`${asProblem(thrown).message}\n`);
    process.exitCode = exitStatus.couldNot;
  }
}

try {
  // Without a command the station opens; as commander's default command a misspelt command would be taken for its argument.
  await program.parseAsync(process.argv.length > 2 ? process.argv : [...process.argv, 'open']);
} catch (thrown) {
  if (!(thrown instanceof CommanderError)) throw thrown;
  // Commander has said what was wrong; asking for help or the version is no fault.
  process.exitCode = thrown.exitCode === 0 ? 0 : exitStatus.couldNot;
}
