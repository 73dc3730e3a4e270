/** What is said before continuity is watched (common practice). Local rules and licensed practice go before them. */
export const CONTINUITY_CAUTIONS = [
  'The wire or contact is de-energised and isolated: no supply, and no other circuit across it.',
  'Stored energy was discharged before it is touched or measured.',
  'Local rules and licensed practice go before anything this program says; for mains, insulation and protective conductors they ask for instruments made for that.',
  'Closed or open says what the meter finds between its probes now. It never says that something is safe to touch.',
] as const;
