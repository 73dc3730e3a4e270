import Big from 'big.js';
import { meterNumber } from '../../core/quantity/meterNumber.ts';
import { type FunctionWords, functionWord } from './dialect.ts';

/** Whether an answer is one of the names a function has. */
export function isNameOf(words: Pick<FunctionWords, 'names'>, answer: string): boolean {
  return words.names.map(functionWord).includes(functionWord(answer));
}

/** Whether an answer is this number, however it is written. */
export function isNumber(wanted: string | null): (answer: string) => boolean {
  return (answer) => {
    const number = meterNumber(answer);
    return wanted !== null && number?.kind === 'value' && new Big(number.text).eq(wanted);
  };
}

/** What a switch is set to; null for an answer that is neither. */
export function onOrOff(answer: string): boolean | null {
  const word = answer.trim().toUpperCase();
  if (word === 'ON' || /^\+?1$/.test(word)) return true;
  return word === 'OFF' || /^\+?0$/.test(word) ? false : null;
}

/** A value as it is told: not every meter reads a long plain decimal, NR3 is understood by all (IEEE 488.2 7.7.2). */
export function nr3(ohms: string): string {
  return new Big(ohms).toExponential().toUpperCase();
}
