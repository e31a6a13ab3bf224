import {
  usualCautions,
  type Electrical,
  type StepKind,
  type StepQuantity,
  type StepSetting,
  type TankContents,
} from '@huelot/contracts';
import type { Db } from '../../apps/api/src/db/client.ts';
import { nextNumber } from '../../apps/api/src/db/numbers.ts';

/*
 * Recipes of the invented shop. Settings are plausible and made up: nobody should colour anything by them. The windows for
 * steel follow common practice (no source): interference colours near 50 °C and 2 to 2.5 V, black near 90 °C.
 */
interface Step {
  kind: StepKind;
  title: string;
  contents: TankContents | null;
  minutes: number;
  settings?: StepSetting[];
  record?: StepQuantity[];
  electrical?: Electrical;
}
const about = (quantity: StepQuantity, target: number, halfWidth: number): StepSetting => ({
  quantity,
  target,
  low: Number((target - halfWidth).toFixed(3)),
  high: Number((target + halfWidth).toFixed(3)),
});
const clean: Step = {
  kind: 'clean',
  title: 'Alkaline clean',
  contents: 'alkaline-clean',
  minutes: 5,
  settings: [about('temperatureC', 58, 5)],
  record: ['temperatureC'],
};
const rinse = (title = 'Rinse'): Step => ({ kind: 'rinse', title, contents: 'water-rinse', minutes: 1 });
const dry: Step = { kind: 'dry', title: 'Dry', contents: 'air', minutes: 6 };
const look: Step = { kind: 'inspect', title: 'Compare with the agreed sample', contents: null, minutes: 5 };
const ramped = (
  volts: number,
  of: {
    rampS: number;
    holdS: number;
    peak: number;
    steady: number;
    tauS: number | null;
    chargeCPerM2: number | null;
  },
): Electrical => ({
  mode: 'voltage',
  programme: [
    { kind: 'ramp', to: volts, seconds: of.rampS },
    { kind: 'hold', to: volts, seconds: of.holdS },
  ],
  peakCurrentDensityAPerM2: of.peak,
  steadyCurrentDensityAPerM2: of.steady,
  timeConstantS: of.tauS,
  averageVoltageV: Number((volts * 0.92).toFixed(2)),
  chargeCPerM2: of.chargeCPerM2,
});
const valveColour = (volts: number): Step => ({
  kind: 'colour',
  title: `Colour at ${volts} V`,
  contents: 'mild-salt',
  minutes: 2,
  settings: [about('voltageV', volts, 0.5), about('temperatureC', 21, 3)],
  record: ['voltageV', 'currentA', 'temperatureC'],
  electrical: ramped(volts, { rampS: 20, holdS: 60, peak: 200, steady: 5, tauS: 12, chargeCPerM2: null }),
});
const valve = (volts: number): Step[] => [
  clean,
  rinse('Rinse'),
  { kind: 'etch', title: 'Bright etch', contents: 'acid-etch', minutes: 2 },
  rinse('Rinse well'),
  valveColour(volts),
  rinse('Final rinse'),
  dry,
  look,
];
const causticColour = (
  title: string,
  of: { temperatureC: number; volts: number; minutes: number },
): Step => ({
  kind: 'colour',
  title,
  contents: 'hot-caustic',
  minutes: of.minutes,
  settings: [about('temperatureC', of.temperatureC, 2), about('voltageV', of.volts, 0.1)],
  record: ['temperatureC', 'voltageV', 'currentA', 'durationS'],
  electrical: ramped(of.volts, {
    rampS: 10,
    holdS: of.minutes * 60 - 20,
    peak: 1000,
    steady: 1000,
    tauS: null,
    chargeCPerM2: null,
  }),
});
const caustic = (colour: Step): Step[] => [
  clean,
  rinse('Rinse'),
  colour,
  rinse('Rinse long'),
  {
    kind: 'rinse',
    title: 'Hot rinse',
    contents: 'hot-rinse',
    minutes: 3,
    settings: [about('temperatureC', 70, 8)],
    record: ['temperatureC'],
  },
  dry,
  { kind: 'oil', title: 'Inhibitor oil', contents: 'oil', minutes: 2 },
  look,
];
const dyed: Step[] = [
  clean,
  rinse('Rinse'),
  {
    kind: 'etch',
    title: 'Etch',
    contents: 'alkaline-etch',
    minutes: 3,
    settings: [about('temperatureC', 55, 4)],
    record: ['temperatureC'],
  },
  rinse('Rinse'),
  { kind: 'desmut', title: 'Desmut', contents: 'desmut', minutes: 2 },
  rinse('Rinse'),
  {
    kind: 'anodize',
    title: 'Anodize',
    contents: 'sulfuric-anodize',
    minutes: 36,
    settings: [about('voltageV', 16, 1), about('temperatureC', 20, 1.5)],
    record: ['voltageV', 'currentA', 'temperatureC', 'durationS'],
    electrical: ramped(16, {
      rampS: 60,
      holdS: 2040,
      peak: 150,
      steady: 150,
      tauS: null,
      chargeCPerM2: null,
    }),
  },
  rinse('Rinse well'),
  {
    kind: 'dye',
    title: 'Dye red',
    contents: 'dye',
    minutes: 8,
    settings: [about('temperatureC', 55, 4), about('pH', 5.8, 0.4)],
    record: ['temperatureC', 'pH'],
  },
  rinse('Rinse'),
  {
    kind: 'seal',
    title: 'Hot seal',
    contents: 'seal',
    minutes: 30,
    settings: [about('temperatureC', 96, 2)],
    record: ['temperatureC'],
  },
  dry,
  look,
];

const book = [
  {
    key: 'blue',
    name: 'Deep blue on titanium',
    family: 'interference-colour',
    baseMetals: ['titanium'],
    colour: 'deep blue, first order',
    before: valve(26),
    steps: valve(28),
  },
  {
    key: 'gold',
    name: 'Straw gold on titanium',
    family: 'interference-colour',
    baseMetals: ['titanium'],
    colour: 'straw gold, first order',
    steps: valve(14),
  },
  {
    key: 'magenta',
    name: 'Magenta on titanium',
    family: 'interference-colour',
    baseMetals: ['titanium'],
    colour: 'magenta, second order',
    steps: valve(66),
  },
  {
    key: 'green',
    name: 'Green on niobium',
    family: 'interference-colour',
    baseMetals: ['niobium'],
    colour: 'green, second order',
    steps: valve(88),
  },
  {
    key: 'black',
    name: 'Black on carbon steel',
    family: 'caustic-colour',
    baseMetals: ['steel'],
    colour: 'black',
    steps: caustic(causticColour('Black at 88 °C', { temperatureC: 88, volts: 2.4, minutes: 20 })),
  },
  {
    key: 'peacock',
    name: 'Peacock on pattern-welded steel',
    family: 'caustic-colour',
    baseMetals: ['steel'],
    colour: 'purple to blue, layers differ',
    steps: caustic(causticColour('Peacock at 52 °C', { temperatureC: 52, volts: 2.2, minutes: 8 })),
  },
  {
    key: 'red',
    name: 'Red dyed anodize',
    family: 'dyed-anodize',
    baseMetals: ['aluminium'],
    colour: 'signal red',
    steps: dyed,
  },
] as const;
export type RecipeKey = (typeof book)[number]['key'];

/** The recipe book: approved by a second person, one with a superseded revision, one with a draft that waits. */
export async function writeRecipes(
  db: Db,
  of: { authorId: number; approverId: number; since: Date },
): Promise<Record<RecipeKey, number>> {
  const ids = {} as Record<RecipeKey, number>;
  for (const { key, steps, name, family, baseMetals, colour, ...more } of book) {
    const recipe = await db.prisma.recipe.create({
      data: {
        number: await nextNumber(db.run, 'recipe'),
        name,
        family,
        baseMetals: [...baseMetals],
        colour,
        createdAt: of.since,
      },
    });
    const routes = 'before' in more ? [more.before, steps] : [steps];
    for (const [at, route] of routes.entries()) {
      const revision = await db.prisma.recipeRevision.create({
        data: revisionOf(recipe.id, at + 1, {
          ...of,
          route,
          note: at === 0 ? 'first proved on coupons' : 'two volts more: the blue was too purple',
        }),
      });
      await db.prisma.recipeRevision.updateMany({
        where: { recipeId: recipe.id, status: 'approved' },
        data: { status: 'superseded', supersededAt: of.since },
      });
      await db.prisma.recipeRevision.update({
        where: { id: revision.id },
        data: { status: 'approved', approvedById: of.approverId, approvedAt: of.since },
      });
      ids[key] = revision.id;
    }
    if (key === 'gold') {
      await db.prisma.recipeRevision.create({
        data: revisionOf(recipe.id, 2, { ...of, route: valve(15), note: 'one volt more, to be approved' }),
      });
    }
  }
  return ids;
}

function revisionOf(
  recipeId: number,
  revision: number,
  of: { authorId: number; since: Date; route: readonly Step[]; note: string },
) {
  return {
    recipeId,
    revision,
    authorId: of.authorId,
    writerIds: [of.authorId],
    changeNote: of.note,
    createdAt: of.since,
    steps: {
      create: of.route.map(({ minutes, settings = [], record = [], electrical, ...step }, at) => ({
        ...step,
        position: at + 1,
        durationS: minutes * 60,
        dripS: step.contents === null || step.contents === 'air' ? 0 : 15,
        settings: record.includes('durationS')
          ? [...settings, about('durationS', minutes * 60, minutes * 6)]
          : settings,
        ...(electrical === undefined ? {} : { electrical }),
        record,
        cautions: usualCautions({
          contents: step.contents,
          kind: step.kind,
          onSupply: electrical !== undefined,
        }),
      })),
    },
  };
}
