/**
 * The usual cautions before resistance is measured, to be confirmed by whoever stands at the bench.
 * Common practice; local rules and licensed practice come first, and nothing here says that anything is safe to touch.
 */
export const CAUTIONS = [
  'The pieces are de-energised and isolated: not in a circuit, no supply connected.',
  'Stored energy was discharged before anything was connected.',
  'Leads, probes and meter are undamaged and rated for this work.',
  'Local rules and licensed practice come first; mains, insulation and bonding are left to instruments made for them.',
] as const;
