import type { AgreedColour } from '@huelot/contracts';

/* What the invented customers agreed to. Figures are made up, and plausible for the films they name. */

type Lab = NonNullable<AgreedColour['target']>;
interface Sketch {
  /** Its place in the list of customers. */
  customer: number;
  name: string;
  agreedBy: string;
  figures?: { target: Lab; light?: Lab; dark?: Lab; deltaE: number };
  sample?: { name: string; keptAt: string };
  /** Days from today; before today it has run out. */
  expiresInDays?: number;
}

/** By code: as people say it, and as the parts of the customers name it. */
export const standardBook = {
  'S-14': {
    ...{ customer: 0, name: 'Falkenau blue', agreedBy: 'Mira Sand' },
    figures: { target: { L: 43, a: 9, b: -42 }, deltaE: 4 },
    sample: { name: 'seat clamp S-14', keptAt: 'cabinet 1, drawer 3' },
  },
  'S-09': {
    ...{ customer: 0, name: 'Straw gold', agreedBy: 'Mira Sand', expiresInDays: 20 },
    sample: { name: 'bolt S-09', keptAt: 'cabinet 1, drawer 3' },
  },
  'HP-MAGENTA': {
    ...{ customer: 1, name: 'Focus ring magenta', agreedBy: 'Jon Pell' },
    figures: {
      ...{ target: { L: 52, a: 36, b: -18 }, deltaE: 4 },
      ...{ light: { L: 57, a: 33, b: -12 }, dark: { L: 46, a: 37, b: -25 } },
    },
    sample: { name: 'three rings: light end, target, dark end', keptAt: 'cabinet 2, drawer 1' },
  },
  'HP-GREEN': {
    ...{ customer: 1, name: 'Sensor green', agreedBy: 'Jon Pell' },
    figures: { target: { L: 62, a: -28, b: 18 }, deltaE: 5 },
  },
  'S-21': {
    ...{ customer: 2, name: 'Peacock, layers differ', agreedBy: 'Tess Oban' },
    sample: { name: 'blade S-21', keptAt: 'cabinet 1, drawer 5, oiled' },
  },
  'S-22': {
    ...{ customer: 2, name: 'Bolster black', agreedBy: 'Tess Oban' },
    figures: { target: { L: 24, a: 1, b: -2 }, deltaE: 3 },
    sample: { name: 'bolster S-22', keptAt: 'cabinet 1, drawer 5, oiled' },
  },
  'S-30': {
    ...{ customer: 3, name: 'Signal red', agreedBy: 'Kai Berg', expiresInDays: -12 },
    sample: { name: 'grille corner S-30', keptAt: 'cabinet 3, in the dark' },
  },
  'S-40': {
    ...{ customer: 4, name: 'Disc green', agreedBy: 'Ana Wren' },
    figures: { target: { L: 61, a: -27, b: 17 }, deltaE: 5 },
  },
  'S-41': {
    ...{ customer: 4, name: 'Band blue', agreedBy: 'Ana Wren' },
    figures: { target: { L: 44, a: 8, b: -42 }, deltaE: 5 },
  },
  'S-44': {
    ...{ customer: 5, name: 'Bezel blue', agreedBy: 'Reto Amsel' },
    figures: { target: { L: 43, a: 10, b: -42 }, deltaE: 4 },
  },
} as const satisfies Record<string, Sketch>;
export type StandardCode = keyof typeof standardBook;

/** A standard of the book, whichever it is. */
export const sketchOf = (code: StandardCode): Sketch => standardBook[code];
