import { Command, CommanderError } from 'commander';
import { asProblem } from '../../core/problem/problem.ts';
import { VERSION } from '../version.ts';
import type { BatchOptions } from './batch.ts';
import type { BenchOptions } from './bench.ts';
import type { CertifyOptions } from './certify.ts';
import type { ContinuityOptions } from './continuity.ts';
import type { CorrectOptions } from './correct.ts';
import type { DecideOptions } from './decide.ts';
import { exitStatus } from './exitStatus.ts';
import type { FiguresOptions } from './figures.ts';
import type { HistoryOptions } from './history.ts';
import { inspectHelp } from './inspectHelp.ts';
import type { InspectOptions } from './job.ts';
import type { KeyOptions } from './key.ts';
import type { LiftHoldOptions } from './liftHold.ts';
import type { NetworkOptions } from './network.ts';
import type { OpenOptions } from './open.ts';
import type { PracticeOptions } from './practice.ts';
import type { RecordOptions } from './record.ts';
import type { StoryOptions } from './story.ts';
import type { StressOptions } from './stress.ts';
import type { StudyOptions } from './study.ts';
import type { VerifyOptions } from './verify.ts';

const DATA_OPTION = [
  '--data <folder>',
  "folder of the record and certificates (default: this user's data folder)",
] as const;
const METER_WORDS = 'sim:, sim:SEED, tcp://HOST:PORT, or a serial port such as /dev/ttyUSB0?baud=9600';
const JSON_OPTION = ['--json', 'print results as JSON lines on standard output'] as const;
const NOMINAL_OPTION = ['--nominal <ohms>', 'nominal value of the part, like 4k7'] as const;
const TOLERANCE_OPTION = [
  '--tolerance <text>',
  'tolerance of the part, like "1 %" or "4.6k to 4.8k"; gives the window',
] as const;
const OUT_OPTION = ['--out <file>', 'write the result into this file, which verify takes; needs --by'] as const;
const KEYS_OPTION = [
  '--data <folder>',
  "folder with this station's key and the keys known here (default: this user's data folder)",
] as const;
const RUN_ARGUMENT = ['<run>', 'number of the run'] as const;
const WHO_OPTION = ['--by <name>', 'who does it'] as const;
const WHY_OPTION = ['--reason <text>', 'why'] as const;
const SECOND_OPTION = [
  '--approved-by <name>',
  'second person, who answers for accepting the lot against its plan as well',
] as const;
const DISPOSITION_WORDS = 'accepted, not-accepted or on-hold';
const CERTIFICATE_OPTION = [
  '--certificate <file>',
  'write the certificate here (default: the certificates folder)',
] as const;
const COMMA_OPTION = [
  '--decimal-comma',
  'write the certificate for spreadsheets with a decimal comma; verify takes it too',
] as const;
/** For commands that change a run or tell of it: nothing but done and not done. */
const DONE_OR_NOT = '\nExit status: 0 done, 2 could not, or refused; then nothing was changed.';
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
  .requiredOption('--meter <address>', METER_WORDS)
  .option('--go-on <run>', 'go on with a run of this record instead of receiving a lot from a file')
  .option(...CERTIFICATE_OPTION)
  .option(...COMMA_OPTION)
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
  .command('batch')
  .description('inspect lots one after the other from their JSON files, or from folders of them; a JSON line for each')
  .argument('<path...>', 'JSON files that describe lots (see inspect --help), or folders of such files')
  .requiredOption('--meter <address>', METER_WORDS)
  .option('--watch', 'go on looking for new files until the command is stopped')
  .option('--results <file>', 'also add each line to this file; what it says is done is not done again')
  .option('--decimal-comma', 'write certificates for spreadsheets with a decimal comma')
  .option('--confirm-cautions', 'you have read the cautions and the bench is as they say, for every lot')
  .option('--reference <name>', 'the reference resistor the meter is checked with')
  .option('--without-reference <reason>', 'do without a reference resistor; the reason stands on each certificate')
  .option('--ambient <celsius>', 'ambient temperature')
  .option('--override-calibration <reason>', 'use a meter whose calibration is overdue or not known')
  .option('--wait <seconds>', 'how long to wait for a meter that was lost before giving up a lot', '60')
  .option(...DATA_OPTION)
  .addHelpText('after', '\nExit status: 0 all accepted or studied, 1 any not accepted, 2 any could not be inspected.')
  .action((paths: string[], options: BatchOptions) =>
    run(async () => (await import('./batch.ts')).batch(paths, options)),
  );

program
  .command('story')
  .description('all that happened in a run, in order: who, what, when and why, from its entries in the record')
  .argument(...RUN_ARGUMENT)
  .option(...JSON_OPTION)
  .option(...DATA_OPTION)
  .addHelpText('after', '\nExit status: 0 told, 2 could not, as where the record was altered.')
  .action((text: string, options: StoryOptions) => run(async () => (await import('./story.ts')).story(text, options)));

program
  .command('history')
  .description('the runs there were, found by what is known of them; as a table, as JSON lines or as a CSV file')
  .option(
    '--text <text>',
    'stands somewhere in part, description, lot, reel, supplier or inspector, in capitals or not',
  )
  .option('--part <number>', 'the part, as it was written')
  .option('--supplier <name>', 'the supplier, as it was written')
  .option('--lot <number>', 'the lot, as it was written')
  .option('--inspector <name>', 'who received the lot, as it was written')
  .option('--from <day>', 'first day of receipt, like 2026-03-02')
  .option('--to <day>', 'last day of receipt')
  .option('--disposition <what>', `${DISPOSITION_WORDS}, studied or undecided`)
  .option('--practice <among>', 'runs on the simulated bench: with, without or only (default: with)')
  .option('--studies <among>', 'studies of the measurement: with, without or only (default: with)')
  .option('--order <way>', 'latest-first or earliest-first (default: latest-first)')
  .option('--csv <file>', 'write all of them into this new CSV file instead of printing them')
  .option(...JSON_OPTION)
  .option(...DATA_OPTION)
  .addHelpText('after', '\nExit status: 0 done, also where none was found; 2 could not.')
  .action((options: HistoryOptions) => run(async () => (await import('./history.ts')).history(options)));

program
  .command('decide')
  .description(
    'decide the lot of a run that was measured, or put it on hold; by its plan, or otherwise with a reason and, to accept it, a second person',
  )
  .argument(...RUN_ARGUMENT)
  .requiredOption('--disposition <what>', `${DISPOSITION_WORDS}; studied closes a study`)
  .requiredOption(...WHO_OPTION)
  .option(...WHY_OPTION)
  .option(...SECOND_OPTION)
  .option(...DATA_OPTION)
  .addHelpText('after', DONE_OR_NOT)
  .action((text: string, options: DecideOptions) =>
    run(async () => (await import('./decide.ts')).decide(text, options)),
  );

program
  .command('lift-hold')
  .description('take a lot off hold, so that its run goes on: inspect --go-on, or decide where it was measured')
  .argument(...RUN_ARGUMENT)
  .requiredOption(...WHO_OPTION)
  .requiredOption(...WHY_OPTION)
  .option(...DATA_OPTION)
  .addHelpText('after', DONE_OR_NOT)
  .action((text: string, options: LiftHoldOptions) =>
    run(async () => (await import('./liftHold.ts')).liftHold(text, options)),
  );

program
  .command('correct')
  .description('correct the decision of a lot, or one thing typed wrong of it; what it was stays in the record')
  .argument(...RUN_ARGUMENT)
  .option('--disposition <what>', `what the decision should be: ${DISPOSITION_WORDS}`)
  .option(...SECOND_OPTION)
  .option('--lot-number <text>', 'what the lot number should be')
  .option('--supplier <text>', 'what the supplier should be; "" for none')
  .option('--reel <text>', 'what the reel should be; "" for none')
  .option('--description <text>', 'what the description of the part should be; "" for none')
  .requiredOption(...WHO_OPTION)
  .requiredOption(...WHY_OPTION)
  .option(...DATA_OPTION)
  .addHelpText('after', DONE_OR_NOT)
  .action((text: string, options: CorrectOptions) =>
    run(async () => (await import('./correct.ts')).correct(text, options)),
  );

program
  .command('certify')
  .description('write the certificate of a run that is decided or on hold, anew where one was written before')
  .argument(...RUN_ARGUMENT)
  .option(...CERTIFICATE_OPTION)
  .option(...COMMA_OPTION)
  .option(...JSON_OPTION)
  .option(...DATA_OPTION)
  .addHelpText('after', '\nExit status: 0 written, 2 could not.')
  .action((text: string, options: CertifyOptions) =>
    run(async () => (await import('./certify.ts')).certify(text, options)),
  );

program
  .command('verify')
  .description(
    'verify certificates and results of studies and of stress tests: every byte against the digest, the digest against its signature, every verdict and figure anew',
  )
  .argument('<file...>', 'certificates, results of studies, results of stress tests')
  .option(...JSON_OPTION)
  .option(...KEYS_OPTION)
  .addHelpText('after', '\nExit status: 0 all intact, 1 any not intact or not readable, 2 no file named.')
  .action((files: string[], options: VerifyOptions) =>
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
  .command('continuity')
  .description(
    'go through a from-to list of wires, contacts and switches: closed or open, cross-connections, certificate',
  )
  .argument('[list]', 'CSV file with the columns from and to, and expected, limit_ohms, state, wire, note where wanted')
  .requiredOption('--meter <address>', METER_WORDS)
  .option('--go-on <run>', 'go on with a continuity run of this record instead of receiving a list')
  .option('--inspector <name>', 'who measures')
  .option('--title <text>', 'what is measured (default: the name of the file)')
  .option('--drawing <number>', 'number of its drawing or harness')
  .option('--serial <number>', 'its serial number or lot')
  .option('--closed-below <ohms>', 'what reads less is closed (default: 2; from 0.5 to 1k)')
  .option('--open-above <ohms>', 'what reads more is open (default: 1M; from 10k to 10M)')
  .option('--cross <which>', 'cross-connection pairs that follow from the list: none, neighbours, nets or all', 'nets')
  .option('--confirm-cautions', 'you have read the cautions and the wiring is as they say (asked for otherwise)')
  .option(...JSON_OPTION)
  .option(...DATA_OPTION)
  .addHelpText('after', '\nExit status: 0 every point as expected, 1 not accepted, 2 could not be measured.')
  .action((list: string | undefined, options: ContinuityOptions) =>
    run(async () => (await import('./continuity.ts')).continuity(list, options)),
  );

program
  .command('network')
  .description('what a network of resistors reads, what each open or short would read, and what explains a reading')
  .argument('<file>', 'lines like "R1 in mid 4k7 1%", or one line like "10k + (4k7 1% || 3k3)"')
  .option(
    '--between <nodes...>',
    'the two nodes that are measured between (default: as the file says, else the first and last)',
  )
  .option('--measured <ohms>', 'what was read there: like 2.4k, or "open" for the meter\'s overload')
  .option('--uncertainty <ohms>', 'expanded uncertainty (k = 2) of that')
  .option(...JSON_OPTION)
  .addHelpText('after', '\nExit status: 0 worked out, and a good network reads like that; 1 it does not; 2 could not.')
  .action((file: string, options: NetworkOptions) =>
    run(async () => (await import('./network.ts')).network(file, options)),
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
  .option(...KEYS_OPTION)
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
  .option(...KEYS_OPTION)
  .option(...JSON_OPTION)
  .addHelpText('after', '\nExit status: 0 worked out, 2 could not.')
  .action((file: string, options: StudyOptions) => run(async () => (await import('./study.ts')).study(file, options)));

program
  .command('key')
  .description(
    "print the public key that this station signs by, with its fingerprint; or add somebody's to those known here",
  )
  .option('--trust <file>', 'public key in PEM to add; needs --as')
  .option('--as <name>', 'whose key that is')
  .option(...JSON_OPTION)
  .option(...KEYS_OPTION)
  .addHelpText('after', '\nExit status: 0 done, 2 could not.')
  .action((options: KeyOptions) => run(async () => (await import('./key.ts')).key(options)));

program
  .command('ports')
  .description('list the serial ports of this computer')
  .option('--json', 'print them as JSON lines on standard output')
  .action((options: { json?: boolean }) => run(async () => (await import('./ports.ts')).listPortsCommand(options)));

program
  .command('bench')
  .description('serve the simulated bench as a SCPI instrument on TCP, or on a pseudo-terminal')
  .option('--port <number>', 'port (0 takes a free one)', '5025')
  .option('--host <address>', 'address to listen on', '127.0.0.1')
  .option('--seed <number>', 'what is on the bench follows from it', '1')
  .option('--nominal <ohms>', 'nominal value of the pieces on the bench', '4k7')
  .option('--tolerance <text>', 'tolerance the pieces on the bench claim', '1 %')
  .option('--manner <name>', 'speak as meters of this dialect do, such as needs-remote, one-command, talker', 'plain')
  .option('--reel <name>', 'what reel it is: usual, drifting, sorted, cut, mixed or strays', 'usual')
  .option('--no-pace', 'answer at once instead of taking the time a reading takes')
  .option(
    '--scenario <file>',
    'all that is on the bench as JSON, in place of seed, nominal, tolerance, manner, reel and pace',
  )
  .option(
    '--terminal <path>',
    'answer at a pseudo-terminal of this name, as at a serial port, and not on TCP (needs socat)',
  )
  .action((options: BenchOptions) => run(async () => (await import('./bench.ts')).serveBenchCommand(options)));

const record = program
  .command('record')
  .description('check, back up, restore, export or import the record of a station')
  .addHelpText('after', '\nExit status: 0 done or intact, 1 not intact, 2 could not.');

record
  .command('check')
  .description('check every entry and the file; a station may be open on it')
  .argument('[file]', 'a copy of a record (default: the record itself)')
  .option(...JSON_OPTION)
  .option(...DATA_OPTION)
  .action((file: string | undefined, options: RecordOptions) =>
    run(async () => (await import('./record.ts')).checkCommand(file, options)),
  );

record
  .command('backup')
  .description('copy the record into a new file and check the copy; a station may be open and measuring')
  .argument('<file>', 'the copy; never over a file that is there')
  .option(...JSON_OPTION)
  .option(...DATA_OPTION)
  .action((file: string, options: RecordOptions) =>
    run(async () => (await import('./record.ts')).backupCommand(file, options)),
  );

record
  .command('restore')
  .description('check a copy and make it the record of a folder')
  .argument('<file>', 'a copy that backup made')
  .option('--replace', 'take the place of the record that is there, which is kept under another name')
  .option(...JSON_OPTION)
  .option(...DATA_OPTION)
  .action((file: string, options: RecordOptions & { replace?: boolean }) =>
    run(async () => (await import('./record.ts')).restoreCommand(file, options)),
  );

record
  .command('export')
  .description('write all entries as JSON lines, and lots and readings as CSV; a station may be open on it')
  .argument('<folder>', 'a new folder')
  .option(...JSON_OPTION)
  .option(...DATA_OPTION)
  .action((folder: string, options: RecordOptions) =>
    run(async () => (await import('./record.ts')).exportCommand(folder, options)),
  );

record
  .command('import')
  .description('make the record of an empty folder from exported entries; every hash is checked and stays the same')
  .argument('<file>', 'the entries.jsonl of an export')
  .option(...JSON_OPTION)
  .option(...DATA_OPTION)
  .action((file: string, options: RecordOptions) =>
    run(async () => (await import('./record.ts')).importCommand(file, options)),
  );

record
  .command('rebuild')
  .description('make the tables of runs anew from the entries; no station may be open')
  .option(...JSON_OPTION)
  .option(...DATA_OPTION)
  .action((options: RecordOptions) => run(async () => (await import('./record.ts')).rebuildCommand(options)));

const practice = program
  .command('practice')
  .description('exercises on the simulated bench: list, check and seal their files, collect the results of a class');

practice
  .command('list')
  .description('the exercises there are, those in the folder "exercises" of the data folder among them')
  .option(...JSON_OPTION)
  .option(...DATA_OPTION)
  .addHelpText('after', '\nExit status: 0 all can be used, 1 a file of your own cannot, 2 could not.')
  .action((options: PracticeOptions) => run(async () => (await import('./practice.ts')).listCommand(options)));

practice
  .command('check')
  .description('check the file of an exercise, plain or sealed')
  .argument('<file>', 'JSON file; instruments/exercises/README.md says what each field means')
  .option(...JSON_OPTION)
  .addHelpText('after', '\nExit status: 0 it can be used, 2 it cannot, and where and why.')
  .action((file: string, options: PracticeOptions) =>
    run(async () => (await import('./practice.ts')).checkCommand(file, options)),
  );

practice
  .command('schema')
  .description('the JSON Schema of these files, by which an editor helps to write one')
  .action(() => run(async () => (await import('./practice.ts')).schemaCommand()));

practice
  .command('seal')
  .description(
    'write the file that is handed out: what is true is sealed, the SHA-256 of the exercise stands beside it',
  )
  .argument('<file>', 'the exercise as it was written')
  .requiredOption('--out <file>', 'the file that is handed out; never over one that is there')
  .option(...JSON_OPTION)
  .action((file: string, options: PracticeOptions) =>
    run(async () => (await import('./practice.ts')).sealCommand(file, options)),
  );

practice
  .command('results')
  .description('how the exercises of everybody on this machine went, with the points of each')
  .argument('[files...]', 'CSV files of other machines, which go into the same file')
  .option('--csv <file>', 'write all of them into this new CSV file')
  .option(...JSON_OPTION)
  .option(...DATA_OPTION)
  .action((files: string[], options: PracticeOptions) =>
    run(async () => (await import('./practice.ts')).resultsCommand(files, options)),
  );

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
