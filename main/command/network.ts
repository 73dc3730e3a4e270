import { explanationsOf, type MeasuredOhms } from '../../core/network/explanations.ts';
import { parseMeasured } from '../../core/network/measuredOhms.ts';
import { type Network, type Terminals, usualTerminals } from '../../core/network/network.ts';
import { analyseNetwork, type NetworkAnalysis } from '../../core/network/networkAnalysis.ts';
import { NETWORK_CAUTIONS } from '../../core/network/networkCautions.ts';
import {
  explanationsSentence,
  explanationWords,
  ohmsText,
  rangeText,
  SHOWS_WORDS,
} from '../../core/network/networkWords.ts';
import { readNetwork } from '../../core/network/readNetwork.ts';
import { problem } from '../../core/problem/problem.ts';
import { parseOhms } from '../../core/quantity/parseOhms.ts';
import { significant } from '../../core/quantity/significant.ts';
import { exitStatus } from './exitStatus.ts';
import { fileText } from './fileText.ts';
import { tableLines } from './table.ts';
import { tame } from './tame.ts';

export interface NetworkOptions {
  between?: string[];
  /** What was read between the terminals; `open` for the meter's overload. */
  measured?: string;
  uncertainty?: string;
  json?: boolean;
}

const DIGITS_OF_PERCENT = 4;

/** What a network of resistors reads, what each fault would read, and what explains a reading. */
export async function network(file: string, options: NetworkOptions): Promise<number> {
  const described = readNetwork(await fileText(file));
  const analysis = analyseNetwork(described, terminalsOf(described, options.between));
  const measured = measuredIn(options);
  const explanations = measured && explanationsOf(described, analysis, measured);
  if (options.json) {
    const { corners: _, ...facts } = analysis;
    const infinite = (_key: string, value: unknown) => (value === Number.POSITIVE_INFINITY ? 'open' : value);
    console.log(JSON.stringify({ type: 'network', ...facts, explanations }, infinite));
  } else {
    for (const line of linesOf(analysis)) console.log(tame(line));
    if (explanations) {
      console.log(`\n${ohmsText(measured.ohms)} was read:`);
      for (const each of explanations) {
        console.log(
          tame(
            `- ${explanationWords(each, described)}: ${ohmsText(each.ohms)}, worst case ${rangeText(each.lowest, each.highest)}`,
          ),
        );
      }
      console.log(explanationsSentence(explanations));
    }
  }
  return explanations === null || explanations[0]?.what === 'good' ? exitStatus.good : exitStatus.bad;
}

function terminalsOf(described: Network, given: string[] | undefined): Terminals {
  const [from, to, ...more] = given ?? [];
  if (from !== undefined && to !== undefined && more.length === 0) return [from, to];
  if (given !== undefined)
    throw problem('input-invalid', '--between', 'two nodes are needed, behind the file: FILE --between A B');
  return usualTerminals(described);
}

function measuredIn({ measured, uncertainty }: NetworkOptions): MeasuredOhms | null {
  if (measured === undefined) return null;
  return {
    ohms: parseMeasured(measured),
    expandedOhms: uncertainty === undefined ? 0 : Number(parseOhms(uncertainty)),
  };
}

function linesOf({ terminals, expected, faults, inCircuit, sourcesLeft }: NetworkAnalysis): string[] {
  const percent = (value: number) => `${significant(value, DIGITS_OF_PERCENT)} %`;
  const lines = [
    `Between ${terminals[0]} and ${terminals[1]}: ${ohmsText(expected.nominal)}`,
    `Worst case ${rangeText(expected.lowest, expected.highest)}; root-sum-square ${rangeText(expected.likelyLowest, expected.likelyHighest)}`,
  ];
  if (expected.isWithoutTolerance) lines.push('A resistor was given without a tolerance and is taken as it is.');
  lines.push('', 'Change of the whole for 1 % of one');
  lines.push(
    ...tableLines(
      expected.sensitivities.map(({ name, perPercent, spreadOhms }) => [
        name,
        percent(perPercent),
        `±${ohmsText(spreadOhms)}`,
      ]),
    ),
  );
  lines.push('', 'Single faults');
  lines.push(
    ...tableLines([
      ['', '', 'reads', 'worst case', '', ''],
      ...faults.map(({ name, kind, ohms, lowest, highest, shows, alike }) => [
        name,
        kind,
        ohmsText(ohms),
        rangeText(lowest, highest),
        SHOWS_WORDS[shows],
        alike === null ? '' : `reads like the others of group ${alike}`,
      ]),
    ]),
  );
  lines.push('', 'Each across its own ends, in circuit');
  lines.push(
    ...tableLines([
      ['', 'own', 'reads', 'worst case', 'off by', ''],
      ...inCircuit.map(({ name, own, ohms, lowest, highest, changePercent, lift }) => [
        name,
        ohmsText(own),
        ohmsText(ohms),
        rangeText(lowest, highest),
        percent(changePercent),
        lift === null ? 'nothing beside it' : `lift its end at ${lift}`,
      ]),
    ]),
  );
  if (sourcesLeft) {
    lines.push(
      '',
      `With ${sourcesLeft.names.join(', ')} still connected: ${significant(sourcesLeft.volts, DIGITS_OF_PERCENT)} V at the terminals, ${ohmsText(sourcesLeft.ohms)} where none gives a voltage.`,
      'A meter on resistance reads nonsense there and may be damaged. Disconnect every source and discharge what stores energy first.',
    );
  }
  lines.push('', ...NETWORK_CAUTIONS.map((caution) => `- ${caution}`));
  return lines;
}
