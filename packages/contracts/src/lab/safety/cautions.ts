import type { CautionSign } from './caution-sign.ts';
import { ChemicalHazard, chemicalHazardWords } from '../chemicals.ts';
import { reagentCautions } from './method-cautions.ts';
import { electrolyticKinds, type StepKind, type TankContents } from '../../catalog/steps.ts';

/** What is done while a caution is read: parts go into a tank, a bath is added to, made up or dumped. */
export type CautionedAct = 'step' | 'addition' | 'make-up' | 'dump';

/** What is usually warned of, and how that is known: P from the publication named, C common practice without one. */
export interface Caution {
  readonly text: string;
  readonly evidence: 'P' | 'C';
  readonly source: string;
  readonly sign: CautionSign | null;
  /** The acts in which it is what goes wrong; in any other it is general and stays folded. */
  readonly particularTo: readonly CautionedAct[];
}

type Sorting = Partial<Pick<Caution, 'sign' | 'particularTo'>>;
const practice = (text: string, { sign = null, particularTo = ['step'] }: Sorting = {}): Caution => ({
  text,
  evidence: 'C',
  source: 'common practice, no source',
  sign,
  particularTo,
});
const published = (
  text: string,
  { source, sign = null, particularTo = ['step'] }: Sorting & { source: string },
): Caution => ({ text, evidence: 'P', source, sign, particularTo });

const pouring = ['addition', 'make-up'] as const;
const anyBathWork = ['addition', 'make-up', 'dump'] as const;

/** Closes every list of cautions: what is shown here is a reminder, not the authority. */
export const SAFETY_DISCLAIMER =
  'The safety data sheet, the local code and trained people decide; this list is only a reminder.';

const eyewash = published(
  'Know where the eyewash and shower are and that nothing stands in front of them; water at once and for a long time is the first aid.',
  {
    source: '29 CFR 1910.124(g)(2) and 1910.151(c): quick drenching or flushing where corrosives are handled',
    sign: 'eyewash',
    particularTo: [],
  },
);
const faceAndHands = practice('Wear face shield, gloves, apron and boots made for this liquid.', {
  sign: 'face-shield',
  particularTo: [],
});
const acidIntoWater = practice('Acid goes into water slowly with stirring, never water into strong acid.', {
  sign: 'pour-order',
  particularTo: pouring,
});
const causticAndMetals = published(
  'Never aluminium, magnesium, zinc or galvanized parts, tin, copper, brass, bronze or tantalum into it, and no hooks or racks of them.',
  {
    source: 'product literature of caustic producers: metals that caustic reacts with readily',
    sign: 'no-metal',
  },
);
const causticIntoWater = published(
  'Caustic goes slowly into water with stirring, never water onto caustic: it erupts and spatters.',
  { source: 'product literature of caustic producers', sign: 'pour-order', particularTo: pouring },
);
const mist = practice('Run the exhaust before the current or the heater: the mist must not be breathed.', {
  sign: 'exhaust',
  particularTo: [],
});

const apart = practice(
  'Acid and alkali meet nowhere but in treatment: rinse between them, carry no dripping load over the other tank, and keep drip trays and drains apart.',
  { sign: 'splash', particularTo: ['dump'] },
);

const byContents: Record<TankContents, readonly Caution[]> = {
  'water-rinse': [],
  'hot-rinse': [practice('Hot water and steam scald: lower slowly, keep hands out.', { sign: 'scald' })],
  'alkaline-clean': [
    faceAndHands,
    practice('Hot alkaline cleaner burns skin and eyes and makes floors slippery.', { sign: 'splash' }),
    apart,
  ],
  'acid-etch': [faceAndHands, acidIntoWater, mist, apart, eyewash],
  'fluoride-etch': [
    practice(
      'Liquids with fluoride or hydrofluoric acid injure deep tissue, often without early pain, and can kill: only people trained for it work here.',
      { sign: 'poison', particularTo: ['step', ...anyBathWork] },
    ),
    practice('The antidote the data sheet names (calcium gluconate is usual) must be at hand and in date.', {
      sign: 'poison',
      particularTo: ['step', ...anyBathWork],
    }),
    faceAndHands,
    mist,
    practice('No glass: fluoride attacks it.', { particularTo: pouring }),
    apart,
    eyewash,
  ],
  'alkaline-etch': [
    faceAndHands,
    practice(
      'Aluminium in caustic sets hydrogen free and heats the bath: exhaust on, no flame, no crowded load.',
      { sign: 'flammable-gas' },
    ),
    apart,
    eyewash,
  ],
  desmut: [
    faceAndHands,
    acidIntoWater,
    mist,
    apart,
    practice('Nitric acid with metal gives off brown toxic gas: leave and ventilate.', {
      sign: 'toxic-gas',
      particularTo: ['step', ...anyBathWork],
    }),
  ],
  'mild-salt': [
    practice('Keep it out of eyes and off cuts; check that the bath is not mixed up with an acid one.', {
      particularTo: ['step', ...anyBathWork],
    }),
  ],
  'dilute-acid': [faceAndHands, acidIntoWater, apart],
  'hot-caustic': [
    causticAndMetals,
    causticIntoWater,
    practice(
      'Hot concentrated caustic blinds and burns deeply: face shield over goggles, long gloves, apron, boots.',
      { sign: 'splash', particularTo: ['step', ...anyBathWork] },
    ),
    practice('Lower and lift slowly; dry the parts first, because trapped water flashes to steam.', {
      sign: 'scald',
    }),
    practice('Never let the level fall below the heater; it is hot long after it is switched off.', {
      sign: 'level',
      particularTo: ['dump'],
    }),
    apart,
    eyewash,
  ],
  'sulfuric-anodize': [faceAndHands, acidIntoWater, mist, apart, eyewash],
  phosphoric: [faceAndHands, acidIntoWater, apart, eyewash],
  dye: [
    practice('Avoid dye dust and splashes: it stains and may sensitise skin.', {
      sign: 'dust',
      particularTo: ['step', ...pouring],
    }),
  ],
  seal: [
    practice('Near-boiling seal scalds: lower slowly.', { sign: 'scald' }),
    practice('Nickel seals sensitise skin and must not be breathed as mist.', {
      sign: 'toxic-gas',
      particularTo: ['step', ...anyBathWork],
    }),
  ],
  oil: [
    practice('Oily floors and rags: wipe up, and keep soaked rags in a closed metal bin.', {
      particularTo: [],
    }),
  ],
  strip: [faceAndHands, mist, apart, eyewash],
  air: [],
};

const onASupply: readonly Caution[] = [
  practice(
    'Switch the supply off before touching racks, bars or hooks: direct current at the tank edge can kill.',
    { sign: 'electricity' },
  ),
  published(
    'Hydrogen leaves the cathode and burns from 4 to 75 per cent in air: exhaust on, no spark, no flame.',
    { source: 'flammable range of hydrogen in air, handbooks of industrial gases', sign: 'flammable-gas' },
  ),
];

const byKind: Partial<Record<StepKind, readonly Caution[]>> = {
  prepare: [
    practice(
      'Dust of titanium, zirconium, niobium, tantalum, aluminium and magnesium burns: keep it wet or collected, apart from steel sparks.',
      { sign: 'dust' },
    ),
  ],
  rack: [
    practice('Check the rack and hooks for the metal of the baths they go into, and for tight contacts.'),
  ],
  dry: [practice('Hot parts and racks burn hands; blow water off away from people.', { sign: 'scald' })],
};

/**
 * The cautions usual for a step, most particular first, always closed by {@link SAFETY_DISCLAIMER}; none at all for a step
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
  return found.length === 0 ? [] : [...found, SAFETY_DISCLAIMER];
}

/** What an addition calls for, by the keys of its calculation; what is said of the bath too is the same sentence. */
const ofAdditions = {
  'caustic-into-water': causticIntoWater,
  'water-into-strong': practice(
    'Let water into a strong bath slowly, with stirring, and only well below boiling: it heats where it meets and can spatter.',
    { sign: 'pour-order', particularTo: pouring },
  ),
  'acid-into-water': acidIntoWater,
  'protect-yourself': faceAndHands,
  'heat-rise': practice(
    'The heat of mixing warms the bath: add in portions, stir, and let it cool in between.',
    { sign: 'scald', particularTo: pouring },
  ),
  'near-boiling': practice(
    'Added at once, the bath would come near its boiling point: cool it and stage the addition.',
    { sign: 'scald', particularTo: pouring },
  ),
  'caustic-and-metals': causticAndMetals,
  'current-off': practice(
    'Current and heater off, work out of the tank, before anything is decanted or added.',
    { sign: 'electricity', particularTo: anyBathWork },
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

const switchedOff = practice(
  'Heater and supply off and locked, and the bath cooled below 40 °C, before anything is drained: a heater that falls dry sets fire to its tank.',
  { sign: 'scald', particularTo: ['dump'] },
);
const alkaliDrain = practice(
  'Only into the alkaline drain or container. Never neutralise strong caustic with strong acid: it boils and spatters. Thin it with water first, in treatment.',
  { sign: 'splash', particularTo: ['dump'] },
);
const acidDrain = practice(
  'Only into the acid drain or container, never where caustic, cyanide or sulfide goes: together they boil, or set poisonous gas free.',
  { sign: 'toxic-gas', particularTo: ['dump'] },
);
const fluorideDrain = practice(
  'Only into the container for fluoride: other acid sets hydrofluoric acid free, and a glass or enamelled drain dissolves.',
  { sign: 'poison', particularTo: ['dump'] },
);

/** Where the contents of a tank may not go when they leave it; what is missing may go where the shop says. */
const drains: Partial<Record<TankContents, Caution>> = {
  'alkaline-clean': alkaliDrain,
  'alkaline-etch': alkaliDrain,
  'hot-caustic': alkaliDrain,
  'acid-etch': acidDrain,
  'fluoride-etch': fluorideDrain,
  desmut: acidDrain,
  'dilute-acid': acidDrain,
  'sulfuric-anodize': acidDrain,
  phosphoric: acidDrain,
};

/**
 * The cautions for dumping a fill: what has to be off and cool, where it may not go, then what is usual for the liquid.
 *
 * @example
 * cautionsOfDump('water-rinse')[0].startsWith('Heater and supply off') // true
 */
export function cautionsOfDump(contents: TankContents): string[] {
  const drain = drains[contents];
  const usual = usualCautions({ kind: 'clean', contents, onSupply: false }).filter(
    (text) => text !== SAFETY_DISCLAIMER,
  );
  return [switchedOff.text, ...(drain ? [drain.text] : []), ...usual, SAFETY_DISCLAIMER];
}

/** Every caution with how it is known, for the page that explains them. */
export const allCautions: readonly Caution[] = [
  ...new Set([
    ...Object.values(byContents).flat(),
    ...onASupply,
    ...Object.values(byKind).flat(),
    ...Object.values(ofAdditions),
    switchedOff,
    ...Object.values(drains),
  ]),
];

const hazardSigns: Record<ChemicalHazard, CautionSign | null> = {
  corrosive: 'splash',
  oxidising: 'flammable-gas',
  toxic: 'poison',
  fluoride: 'poison',
  sensitising: 'toxic-gas',
  flammable: 'flammable-gas',
  dust: 'dust',
  environment: null,
};

/**
 * The picture beside a caution of a step, an addition, a reagent or a chemical; null for words that the shop wrote.
 *
 * @example
 * signOf(usualCautions({ kind: 'dye', contents: 'dye', onSupply: false })[0]) // 'dust'
 */
export function signOf(text: string): CautionSign | null {
  const known = [...allCautions, ...reagentCautions].find((caution) => caution.text === text);
  if (known) return known.sign;
  const hazard = ChemicalHazard.options.find((one) => chemicalHazardWords[one] === text);
  return hazard === undefined ? null : hazardSigns[hazard];
}

export interface SortedCautions {
  /** What goes wrong in this act, to be shown first, each with its picture. */
  particular: { text: string; sign: CautionSign | null }[];
  /** Clothing, first aid, other work at the same liquid, and who decides: one tap away. */
  general: string[];
}

/**
 * Sorts cautions for one act: weighing flake has other dangers than dipping a rack into the same bath. Words that
 * somebody of the shop wrote are particular: they would not have been written for nothing.
 *
 * @example
 * sortCautions(usualCautions({ kind: 'dye', contents: 'dye', onSupply: false }), 'step').particular[0].sign // 'dust'
 */
export function sortCautions(texts: readonly string[], act: CautionedAct): SortedCautions {
  const known = new Map(allCautions.map((caution) => [caution.text, caution]));
  const sorted: SortedCautions = { particular: [], general: [] };
  for (const text of new Set(texts)) {
    const caution = known.get(text);
    const general =
      text === SAFETY_DISCLAIMER || (caution !== undefined && !caution.particularTo.includes(act));
    if (general) sorted.general.push(text);
    else sorted.particular.push({ text, sign: signOf(text) });
  }
  if (sorted.particular.length > 0) return sorted;
  // Without a danger of its own, an act is led by what to wear.
  const leading = sorted.general.find((text) => known.get(text)?.sign);
  if (leading === undefined) return sorted;
  return {
    particular: [{ text: leading, sign: signOf(leading) }],
    general: sorted.general.filter((text) => text !== leading),
  };
}
