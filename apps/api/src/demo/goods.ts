import type { Feature, PartFacts, Shape } from '@huelot/contracts';
import type { RecipeKey } from './recipe-book.ts';
import type { StandardCode } from './standard-book.ts';

/* Parts of the invented customers: every figure is made up, and plausible. */

interface Good {
  /** Its place in the list of customers. */
  customer: number;
  number: string;
  revision: string;
  description: string;
  /** Its name in the starting library. */
  material: string;
  recipe: RecipeKey;
  boxMm: [width: number, height: number, depth: number];
  massKg: number;
  /** An area as the drawing gives it, shapes it is built from, or a model file of its box. */
  geometry: { areaMm2: number } | { features: Feature[] } | 'model file';
  standard: StandardCode;
  /** What the customer asks for, where it is not what such work usually comes in. */
  quantities?: readonly number[];
  more?: Partial<
    Pick<
      PartFacts,
      | 'significantSurfaces'
      | 'contactMarks'
      | 'maskingNotes'
      | 'maskingFeatures'
      | 'specification'
      | 'handling'
    >
  >;
}

const feature = (label: string, shape: Shape): Feature => ({
  label,
  shape,
  count: 1,
  subtract: false,
  openings: null,
});

/** What the customers send, in every kind of work and with all three kinds of geometry. */
export const partData: Good[] = [
  {
    customer: 0,
    number: 'FB-120',
    revision: 'C',
    description: 'seat clamp',
    material: 'Titanium grade 5, Ti-6Al-4V',
    recipe: 'blue',
    boxMm: [80, 70, 12],
    massKg: 0.021,
    geometry: { areaMm2: 4200 },
    standard: 'S-14',
    more: {
      significantSurfaces: 'outside faces',
      contactMarks: 'inside the bore',
      handling: 'gloves, paper between',
    },
  },
  {
    customer: 0,
    number: 'FB-131',
    revision: 'A',
    description: 'bottle cage bolt M6',
    material: 'Titanium grade 2',
    recipe: 'gold',
    boxMm: [12, 40, 12],
    massKg: 0.004,
    geometry: {
      features: [
        feature('thread', { kind: 'thread', diameterMm: 6, pitchMm: 1, lengthMm: 18 }),
        feature('head', { kind: 'bar', diameterMm: 10, lengthMm: 5 }),
      ],
    },
    standard: 'S-09',
  },
  {
    customer: 1,
    number: 'HP-7710',
    revision: '2',
    description: 'focus ring',
    material: 'Titanium grade 2',
    recipe: 'magenta',
    boxMm: [62, 62, 14],
    massKg: 0.038,
    geometry: {
      features: [feature('ring', { kind: 'tube', outerDiameterMm: 62, innerDiameterMm: 52, lengthMm: 14 })],
    },
    standard: 'HP-MAGENTA',
    more: {
      significantSurfaces: 'knurl and front face',
      contactMarks: 'inside thread',
      maskingNotes: 'plug the thread',
      maskingFeatures: 1,
      specification: 'HP-S 12',
    },
  },
  {
    customer: 1,
    number: 'HP-7725',
    revision: '1',
    description: 'sensor plate',
    material: 'Niobium, commercial',
    recipe: 'green',
    boxMm: [50, 50, 2],
    massKg: 0.043,
    geometry: 'model file',
    standard: 'HP-GREEN',
  },
  {
    customer: 2,
    number: 'OL-CHEF-21',
    revision: 'B',
    description: 'chef knife blade, pattern-welded',
    material: 'Pattern-welded steel 1084 and 15N20',
    recipe: 'peacock',
    boxMm: [48, 250, 3],
    massKg: 0.165,
    geometry: {
      features: [
        feature('blade', { kind: 'blade', lengthMm: 210, heightMm: 46, spineMm: 2.4, edgeMm: 0.5 }),
        feature('tang', { kind: 'plate', lengthMm: 60, widthMm: 22, thicknessMm: 3 }),
      ],
    },
    standard: 'S-21',
    more: { handling: 'sharp edge: sleeve on', contactMarks: 'tang only' },
  },
  {
    customer: 2,
    number: 'OL-BOL-03',
    revision: 'A',
    description: 'bolster',
    material: 'Carbon steel 1075',
    recipe: 'black',
    boxMm: [30, 28, 12],
    massKg: 0.062,
    geometry: { areaMm2: 3150 },
    standard: 'S-22',
  },
  {
    customer: 3,
    number: 'LA-GRILLE-6',
    revision: 'D',
    description: 'speaker grille ring',
    material: 'Aluminium 6063',
    recipe: 'red',
    boxMm: [180, 180, 8],
    massKg: 0.21,
    geometry: {
      features: [
        feature('ring', { kind: 'washer', outerDiameterMm: 180, innerDiameterMm: 150, thicknessMm: 6 }),
      ],
    },
    standard: 'S-30',
    more: { significantSurfaces: 'front face', contactMarks: 'rear rim', specification: 'LA finish sheet 4' },
  },
  {
    customer: 4,
    number: 'SJ-DISC-18',
    revision: 'A',
    description: 'pendant blank',
    material: 'Niobium, commercial',
    recipe: 'green',
    boxMm: [18, 18, 1],
    massKg: 0.0022,
    geometry: { features: [feature('disc', { kind: 'bar', diameterMm: 18, lengthMm: 1 })] },
    standard: 'S-40',
  },
  {
    customer: 4,
    number: 'SJ-BAND-7',
    revision: 'A',
    description: 'ring band',
    material: 'Titanium grade 2',
    recipe: 'blue',
    boxMm: [22, 22, 7],
    massKg: 0.0031,
    geometry: { areaMm2: 980 },
    standard: 'S-41',
  },
  {
    customer: 0,
    number: 'FB-204',
    revision: 'B',
    description: 'seat post',
    material: 'Titanium grade 2',
    recipe: 'blue',
    boxMm: [28, 350, 28],
    massKg: 0.14,
    geometry: {
      features: [
        feature('post', { kind: 'tube', outerDiameterMm: 27.2, innerDiameterMm: 25, lengthMm: 350 }),
      ],
    },
    standard: 'S-14',
    quantities: [36, 72, 144],
    more: { contactMarks: 'inside the lower end' },
  },
  {
    customer: 2,
    number: 'OL-RACK-2',
    revision: 'A',
    description: 'knife rack plate',
    material: 'Carbon steel 1075',
    recipe: 'black',
    boxMm: [300, 180, 3],
    massKg: 1.27,
    geometry: {
      features: [feature('plate', { kind: 'plate', lengthMm: 300, widthMm: 180, thicknessMm: 3 })],
    },
    standard: 'S-22',
    quantities: [48, 96, 192],
    more: { contactMarks: 'upper corners, rear' },
  },
  {
    customer: 3,
    number: 'LA-FRONT-2',
    revision: 'A',
    description: 'amplifier front panel',
    material: 'Aluminium 6063',
    recipe: 'red',
    boxMm: [560, 300, 3],
    massKg: 1.36,
    geometry: {
      features: [feature('panel', { kind: 'plate', lengthMm: 560, widthMm: 300, thicknessMm: 3 })],
    },
    standard: 'S-30',
    quantities: [36, 72, 144],
    more: { significantSurfaces: 'front face', contactMarks: 'rear edge' },
  },
  {
    customer: 5,
    number: 'TW-BEZEL-38',
    revision: 'B',
    description: 'watch bezel',
    material: 'Titanium grade 2',
    recipe: 'blue',
    boxMm: [38, 38, 3],
    massKg: 0.0062,
    geometry: { areaMm2: 2150 },
    standard: 'S-44',
    more: { significantSurfaces: 'top face and rim', contactMarks: 'inside the seat' },
  },
];
