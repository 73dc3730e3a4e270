import type { DecimalText } from '../quantity/decimal.ts';

/** What one colour of IEC 60062:2016 stands for in each place of a code; null where it stands for nothing. */
export interface ColourMeaning {
  /** IEC 60757, from memory. */
  abbreviation: string;
  digit: number | null;
  /** Times ten to the power of this. */
  power: number;
  tolerancePercent: DecimalText | null;
  ppmPerKelvin: DecimalText | null;
}

export type Colour =
  | 'black'
  | 'brown'
  | 'red'
  | 'orange'
  | 'yellow'
  | 'green'
  | 'blue'
  | 'violet'
  | 'grey'
  | 'white'
  | 'gold'
  | 'silver'
  | 'pink';

const colour = (
  abbreviation: string,
  digit: number | null,
  power: number,
  tolerancePercent: DecimalText | null,
  ppmPerKelvin: DecimalText | null,
): ColourMeaning => ({ abbreviation, digit, power, tolerancePercent, ppmPerKelvin });

/**
 * The colours of IEC 60062:2016 in their order: figures, powers of ten, tolerances, temperature coefficients. Figures, powers
 * and tolerances agree with published colour cards; coefficients of black, green and grey are from memory. Earlier editions
 * differ in the tolerances of orange, yellow and grey: see {@link CHANGED_IN_2016}.
 */
export const COLOURS: Readonly<Record<Colour, ColourMeaning>> = {
  black: colour('BK', 0, 0, null, '250'),
  brown: colour('BN', 1, 1, '1', '100'),
  red: colour('RD', 2, 2, '2', '50'),
  orange: colour('OG', 3, 3, '0.05', '15'),
  yellow: colour('YE', 4, 4, '0.02', '25'),
  green: colour('GN', 5, 5, '0.5', '20'),
  blue: colour('BU', 6, 6, '0.25', '10'),
  violet: colour('VT', 7, 7, '0.1', '5'),
  grey: colour('GY', 8, 8, '0.01', '1'),
  white: colour('WH', 9, 9, null, null),
  gold: colour('GD', null, -1, '5', null),
  silver: colour('SR', null, -2, '10', null),
  pink: colour('PK', null, -3, null, null),
};

/** The names of all colours, black to white, then gold, silver, pink. */
export const COLOUR_NAMES = Object.keys(COLOURS) as readonly Colour[];

/** Tolerances that the edition of 2016 gave colours which stood for something else, or for nothing, before (from memory). */
export const CHANGED_IN_2016: Partial<Record<Colour, string>> = {
  orange: 'Orange is a tolerance only since the 2016 edition of IEC 60062: on an older part the bands may be reversed.',
  yellow: 'Yellow is a tolerance only since the 2016 edition of IEC 60062: on an older part the bands may be reversed.',
  grey: 'Grey stood for ±0.05 % before the 2016 edition of IEC 60062: look at the age of the part or its data sheet.',
};
