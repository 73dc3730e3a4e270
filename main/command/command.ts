import { Command, CommanderError } from 'commander';
import { asProblem } from '../../core/problem/problem.ts';
import { VERSION } from '../version.ts';
import type { BenchOptions } from './bench.ts';
import { exitStatus } from './exitStatus.ts';
import type { FiguresOptions } from './figures.ts';
import { inspectHelp } from './inspectHelp.ts';
import type { InspectOptions } from './job.ts';
import type { OpenOptions } from './open.ts';
import type { StressOptions } from './stress.ts';
import type { StudyOptions } from './study.ts';

const DATA_OPTION = [
  '--data <folder>',
  "folder of the record and certificates (default: this user's data folder)",
] as const;
const JSON_OPTION = ['--json', 'print results as JSON lines on standard output'] as const;
const NOMINAL_OPTION = ['--nominal <ohms>', 'nominal value of the part, like 4k7'] as const;
const TOLERANCE_OPTION = [
  '--tolerance <text>',
  'tolerance of the part, like "1 %" or "4.6k to 4.8k"; gives the window',
] as const;
const OUT_OPTION = ['--out <file>', 'write the result into this file, which verify takes; needs --by'] as const;
const BY_OPTION = ['--by <name>', 'who made the result that is written'] as const;

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
  .description(
    'inspect one lot, or study the measurement, without a window; exit status 0 accepted or studied, 1 not accepted, 2 could not inspect',
  )
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
  .option(...JSON_OPTION)
  .option(...DATA_OPTION)
  .addHelpText('after', inspectHelp())
  .action((file: string | undefined, options: InspectOptions) =>
    run(async () => (await import('./inspect.ts')).inspect(file, options)),
  );

program
  .command('verify')
  .description(
    'verify certificates and results of studies and of stress tests: every byte against the digest, every verdict and figure anew',
  )
  .argument('<file...>', 'certificates, results of studies, results of stress tests')
  .option(...JSON_OPTION)
  .addHelpText('after', '\nExit status: 0 all intact, 1 any not intact or not readable, 2 no file named.')
  .action((files: string[], options: { json?: boolean }) =>
    run(async () => (await import('./verify.ts')).verify(files, options)),
  );

program
  .command('figures')
  .description('every figure of the readings in a file, with its source: capability, shape, outliers, trend')
  .argument('<file>', 'a certificate, which is verified first, or a CSV file with a column ohms')
  .option(...NOMINAL_OPTION)
  .option(...TOLERANCE_OPTION)
  .option(...JSON_OPTION)
  .addHelpText('after', '\nExit status: 0 worked out, 2 could not.')
  .action((file: string, options: FiguresOptions) =>
    run(async () => (await import('./figures.ts')).figures(file, options)),
  );

program
  .command('stress')
  .description(
    'compare the same numbered pieces before and after a treatment; exit status 0 all within, 1 any not, 2 could not',
  )
  .argument('<before>', 'CSV file with columns piece and ohms')
  .argument('<after>', 'the same after the treatment')
  .requiredOption('--limit <text>', 'the most that a piece may change, like "0.25 % + 0.05 ohm" (IEC 60115-1)')
  .requiredOption('--treatment <text>', 'what was done between: heat, load, solder, storage, or in other words')
  .option(...OUT_OPTION)
  .option(...BY_OPTION)
  .option(...JSON_OPTION)
  .action((before: string, after: string, options: StressOptions) =>
    run(async () => (await import('./stress.ts')).stress(before, after, options)),
  );

program
  .command('study')
  .description(
    'work out a study of the measurement (repeatability and reproducibility, or one operator) from its readings',
  )
  .argument('<file>', 'CSV file: piece,operator,repeat,ohms, or of one operator piece,session,repeat,ohms')
  .option('--title <text>', 'what was studied (default: the name of the file)')
  .option('--part <number>', 'part number')
  .option(...NOMINAL_OPTION)
  .option(...TOLERANCE_OPTION)
  .option('--reference <ohms>', 'known value of the one piece of a single-operator study')
  .option('--reference-uncertainty <ohms>', 'its expanded uncertainty (k = 2)')
  .option(...OUT_OPTION)
  .option(...BY_OPTION)
  .option(...JSON_OPTION)
  .addHelpText('after', '\nExit status: 0 worked out, 2 could not.')
  .action((file: string, options: StudyOptions) => run(async () => (await import('./study.ts')).study(file, options)));

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
  .option('--reel <name>', 'what reel it is: usual, drifting, sorted, cut, mixed or strays', 'usual')
  .option('--no-pace', 'answer at once instead of taking the time a reading takes')
  .action((options: BenchOptions) => run(async () => (await import('./bench.ts')).serveBenchCommand(options)));

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
