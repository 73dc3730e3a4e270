/**
 * What has to be confirmed before the first reading, each by itself, by whoever stands at the bench. The usual cautions
 * (common practice); local rules and licensed practice go before them, and nothing here says that anything is safe to
 * touch.
 */
export const CAUTIONS = [
  'Every piece is de-energised and isolated: no supply, and no other circuit across it.',
  'Stored energy was discharged before a piece is touched or measured.',
  'Nothing live is measured at this bench.',
  'Local rules and licensed practice go before anything this program says.',
  'A verdict says how a value stands to its window; it never says that something is safe to touch.',
] as const;
