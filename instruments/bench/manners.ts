import type { Manner } from './manner.ts';
import { needsRemote } from './manners/needsRemote.ts';
import { oneCommand } from './manners/oneCommand.ts';
import { otherWords } from './manners/otherWords.ts';
import { plain } from './manners/plain.ts';
import { severalValues } from './manners/severalValues.ts';
import { talker } from './manners/talker.ts';
import { twoWireOnly } from './manners/twoWireOnly.ts';
import { valueAndUnit } from './manners/valueAndUnit.ts';
import type { MannerName } from './scenario.ts';

export const manners: Record<MannerName, Manner> = {
  plain,
  'needs-remote': needsRemote,
  'two-wire-only': twoWireOnly,
  'other-words': otherWords,
  'value-and-unit': valueAndUnit,
  'several-values': severalValues,
  'one-command': oneCommand,
  talker,
};
