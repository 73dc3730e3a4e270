import { problem } from '../../core/problem/problem.ts';
import needsRemote from '../dialects/needs-remote.json' with { type: 'json' };
import oneCommand from '../dialects/one-command.json' with { type: 'json' };
import otherWords from '../dialects/other-words.json' with { type: 'json' };
import scpi from '../dialects/scpi.json' with { type: 'json' };
import severalValues from '../dialects/several-values.json' with { type: 'json' };
import talker from '../dialects/talker.json' with { type: 'json' };
import twoWireOnly from '../dialects/two-wire-only.json' with { type: 'json' };
import valueAndUnit from '../dialects/value-and-unit.json' with { type: 'json' };
import { type Dialect, dialectSchema } from './dialect.ts';

/** What is spoken where an address names no dialect. */
export const USUAL_DIALECT = 'scpi';

/** The dialects that come with the program, the plain one first. */
export const shippedDialects: readonly Dialect[] = [
  scpi,
  needsRemote,
  twoWireOnly,
  otherWords,
  valueAndUnit,
  severalValues,
  oneCommand,
  talker,
].map((file) => dialectSchema.parse(file));

/**
 * The dialect of this name, shipped or the user's own; plain SCPI where no name is given.
 * @throws {Problem} dialect-unknown
 */
export function dialectNamed(name: string | null, own: readonly Dialect[] = []): Dialect {
  const known = [...shippedDialects, ...own];
  const found = known.find((dialect) => dialect.name === (name ?? USUAL_DIALECT));
  if (!found) throw problem('dialect-unknown', String(name), known.map((dialect) => dialect.name).join(', '));
  return found;
}
