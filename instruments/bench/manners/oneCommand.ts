import { ScpiError, splitMessage } from '../grammar.ts';
import type { Manner } from '../manner.ts';
import { plain } from './plain.ts';

/** Understands one command per message. A message of several is a syntax error, and nothing of it is done. */
export const oneCommand: Manner = {
  ...plain,
  admitMessage: (message) => {
    if (splitMessage(message).length > 1) throw new ScpiError(-102, message);
  },
};
