/** The steps of the job in their order. */
export const STEPS = ['receive', 'ready', 'measure', 'decide', 'certify'] as const;

/** Each step by name, as it stands on the way through the job. */
export const STEP_WORDS: Record<(typeof STEPS)[number], string> = {
  receive: 'Receive',
  ready: 'Ready',
  measure: 'Measure',
  decide: 'Decide',
  certify: 'Certify',
};
