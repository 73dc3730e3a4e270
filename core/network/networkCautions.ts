/** What is said before a network is measured (common practice). Local rules and licensed practice go before it. */
export const NETWORK_CAUTIONS = [
  'The network is de-energised and isolated: no supply, and every source disconnected.',
  'Stored energy was discharged before the network is touched or measured.',
  'Local rules and licensed practice go before anything this program says.',
  'What stands here is what a meter would read. It never says that something is safe to touch.',
] as const;
