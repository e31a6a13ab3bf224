import { electrolyticKinds, type StepKind, type TankContents } from './steps.ts';

/** What is usually warned of, and how that is known: P from the publication named, C common practice without one. */
export interface Caution {
  readonly text: string;
  readonly evidence: 'P' | 'C';
  readonly source: string;
}

const practice = (text: string): Caution => ({ text, evidence: 'C', source: 'common practice, no source' });
const published = (text: string, source: string): Caution => ({ text, evidence: 'P', source });

/** Closes every list of cautions: what is shown here is a reminder, not the authority. */
export const whoDecides =
  'The safety data sheet, the local code and trained people decide; this list is only a reminder.';

const eyewash = published(
  'Know where the eyewash and shower are and that nothing stands in front of them; water at once and for a long time is the first aid.',
  '29 CFR 1910.124(g)(2) and 1910.151(c): quick drenching or flushing where corrosives are handled',
);
const faceAndHands = practice('Wear face shield, gloves, apron and boots made for this liquid.');
const acidIntoWater = practice('Acid goes into water slowly with stirring, never water into strong acid.');
const causticAndMetals = published(
  'Never aluminium, magnesium, zinc or galvanized parts, tin, copper, brass, bronze or tantalum into it, and no hooks or racks of them.',
  'product literature of caustic producers: metals that caustic reacts with readily',
);
const causticIntoWater = published(
  'Caustic goes slowly into water with stirring, never water onto caustic: it erupts and spatters.',
  'product literature of caustic producers',
);
const mist = practice('Run the exhaust before the current or the heater: the mist must not be breathed.');

const byContents: Record<TankContents, readonly Caution[]> = {
  'water-rinse': [],
  'hot-rinse': [practice('Hot water and steam scald: lower slowly, keep hands out.')],
  'alkaline-clean': [
    faceAndHands,
    practice('Hot alkaline cleaner burns skin and eyes and makes floors slippery.'),
  ],
  'acid-etch': [faceAndHands, acidIntoWater, mist, eyewash],
  'fluoride-etch': [
    practice(
      'Liquids with fluoride or hydrofluoric acid injure deep tissue, often without early pain, and can kill: only people trained for it work here.',
    ),
    practice('The antidote the data sheet names (calcium gluconate is usual) must be at hand and in date.'),
    faceAndHands,
    mist,
    practice('No glass: fluoride attacks it.'),
    eyewash,
  ],
  'alkaline-etch': [
    faceAndHands,
    practice(
      'Aluminium in caustic sets hydrogen free and heats the bath: exhaust on, no flame, no crowded load.',
    ),
    eyewash,
  ],
  desmut: [
    faceAndHands,
    acidIntoWater,
    mist,
    practice('Nitric acid with metal gives off brown toxic gas: leave and ventilate.'),
  ],
  'mild-salt': [
    practice('Keep it out of eyes and off cuts; check that the bath is not mixed up with an acid one.'),
  ],
  'dilute-acid': [faceAndHands, acidIntoWater],
  'hot-caustic': [
    causticAndMetals,
    causticIntoWater,
    practice(
      'Hot concentrated caustic blinds and burns deeply: face shield over goggles, long gloves, apron, boots.',
    ),
    practice('Lower and lift slowly; dry the parts first, because trapped water flashes to steam.'),
    practice('Never let the level fall below the heater; it is hot long after it is switched off.'),
    eyewash,
  ],
  'sulfuric-anodize': [faceAndHands, acidIntoWater, mist, eyewash],
  phosphoric: [faceAndHands, acidIntoWater, eyewash],
  dye: [practice('Avoid dye dust and splashes: it stains and may sensitise skin.')],
  seal: [
    practice('Near-boiling seal scalds: lower slowly.'),
    practice('Nickel seals sensitise skin and must not be breathed as mist.'),
  ],
  oil: [practice('Oily floors and rags: wipe up, and keep soaked rags in a closed metal bin.')],
  strip: [faceAndHands, mist, eyewash],
  air: [],
};

const onASupply: readonly Caution[] = [
  practice(
    'Switch the supply off before touching racks, bars or hooks: direct current at the tank edge can kill.',
  ),
  published(
    'Hydrogen leaves the cathode and burns from 4 to 75 per cent in air: exhaust on, no spark, no flame.',
    'flammable range of hydrogen in air, handbooks of industrial gases',
  ),
];

const byKind: Partial<Record<StepKind, readonly Caution[]>> = {
  prepare: [
    practice(
      'Dust of titanium, zirconium, niobium, tantalum, aluminium and magnesium burns: keep it wet or collected, apart from steel sparks.',
    ),
  ],
  rack: [
    practice('Check the rack and hooks for the metal of the baths they go into, and for tight contacts.'),
  ],
  dry: [practice('Hot parts and racks burn hands; blow water off away from people.')],
};

/**
 * The cautions usual for a step, most particular first, always closed by {@link whoDecides}; none at all for a step
 * that has none.
 *
 * @example
 * usualCautions({ kind: 'rinse', contents: 'water-rinse', onSupply: false }) // []
 */
export function usualCautions(step: {
  kind: StepKind;
  contents: TankContents | null;
  /** Whether a power supply drives the step. */
  onSupply: boolean;
}): string[] {
  const { kind, contents } = step;
  const driven = step.onSupply || (electrolyticKinds as readonly StepKind[]).includes(kind);
  const found = [
    ...(contents === null ? [] : byContents[contents]),
    ...(driven ? onASupply : []),
    ...(byKind[kind] ?? []),
  ].map(({ text }) => text);
  return found.length === 0 ? [] : [...found, whoDecides];
}

/** What an addition calls for, by the keys of its calculation; what is said of the bath too is the same sentence. */
const ofAdditions = {
  'caustic-into-water': causticIntoWater,
  'water-into-strong': practice(
    'Let water into a strong bath slowly, with stirring, and only well below boiling: it heats where it meets and can spatter.',
  ),
  'acid-into-water': acidIntoWater,
  'protect-yourself': faceAndHands,
  'heat-rise': practice(
    'The heat of mixing warms the bath: add in portions, stir, and let it cool in between.',
  ),
  'near-boiling': practice(
    'Added at once, the bath would come near its boiling point: cool it and stage the addition.',
  ),
  'caustic-and-metals': causticAndMetals,
  'current-off': practice(
    'Current and heater off, work out of the tank, before anything is decanted or added.',
  ),
} satisfies Record<string, Caution>;

/**
 * The words of what the calculation of an addition warns of.
 *
 * @example
 * cautionsOfAddition(['acid-into-water'])
 */
export const cautionsOfAddition = (keys: readonly (keyof typeof ofAdditions)[]): string[] =>
  keys.map((key) => ofAdditions[key].text);

/** Every caution with how it is known, for the page that explains them. */
export const allCautions: readonly Caution[] = [
  ...new Set([
    ...Object.values(byContents).flat(),
    ...onASupply,
    ...Object.values(byKind).flat(),
    ...Object.values(ofAdditions),
  ]),
];
