import type { ExposureKind } from '@huelot/contracts';

const OPENING = {
  fog: 'Salt fog irritates eyes and airways: stop the spray and let the chamber clear before you lift its lid, and open it away from your face.',
  acid: 'The solution is acid: goggles, gloves and apron where it is mixed and filled in.',
  copper:
    'Copper chloride is harmful and kills what lives in water: what drains from the chamber is collected, never poured away.',
  heat: 'Lid, walls and condensate are hot: let the chamber cool, or open it away from your face and hands.',
  current:
    'Salt water and mains meet here: dry hands at the switch, and a supply with a residual-current device.',
  roof: 'A rack on a roof is reached as people who work at heights are trained to, never alone and not in wind or ice.',
};

/** What to mind where specimens of a test are looked at: common practice, no source. The safety data sheet decides. */
const byKind: Record<ExposureKind, (keyof typeof OPENING)[]> = {
  immersion: ['current'],
  'outdoor-exposure': ['roof'],
  'indoor-exposure': [],
  'neutral-salt-spray': ['fog', 'heat', 'current'],
  'acetic-salt-spray': ['fog', 'acid', 'heat', 'current'],
  'copper-acetic-salt-spray': ['fog', 'acid', 'copper', 'heat', 'current'],
  humidity: ['heat', 'current'],
};

export const cautionsOfExposure = (kind: ExposureKind): string[] => [
  ...byKind[kind].map((caution) => OPENING[caution]),
  'Edges of specimens cut and corrosion products stain: gloves, and wash your hands before you eat.',
];
