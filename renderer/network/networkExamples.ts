/** Networks to begin with; invented. */
export const EXAMPLES = [
  {
    name: 'A divider',
    text: [
      '# A divider with its load',
      'tolerance 1%',
      'R1 in tap 9k1',
      'R2 tap gnd 1k',
      'R3 tap gnd 100k 5%',
      'between in gnd',
    ],
  },
  {
    name: 'A bridge',
    text: [
      '# A bridge, measured across its supply',
      'tolerance 0.1%',
      'R1 top left 350',
      'R2 top right 350',
      'R3 left bottom 350',
      'R4 right bottom 350',
      'R5 left right 10k 1%',
      'between top bottom',
    ],
  },
  {
    name: 'An R-2R ladder',
    text: [
      '# A ladder of four bits, its inputs joined to 0',
      'tolerance 0.5%',
      'R1 d 0 20k',
      'R2 d 0 20k',
      'R3 d c 10k',
      'R4 c 0 20k',
      'R5 c b 10k',
      'R6 b 0 20k',
      'R7 b a 10k',
      'R8 a 0 20k',
      'between a 0',
    ],
  },
] as const;
