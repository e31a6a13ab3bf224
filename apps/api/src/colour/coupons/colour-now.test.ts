import { deltaE2000 } from '@huelot/calc';
import type {
  BathColour,
  CouponSeries,
  CouponTrial,
  Material,
  NewBathSetup,
  NewStep,
  RecipeRevision,
  StepSetting,
} from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import { type Ask, testApp } from '../../../../../tests/support/app.ts';
import * as lab from '../../../../../tests/support/lab.ts';
import { addPart, partFacts } from '../../../../../tests/support/parts.ts';

const { as, db } = await testApp();
let lena: Ask;
let lars: { personId: number };
let quentin: Ask;
let steel: Material;
beforeAll(async () => {
  [lena, lars, quentin] = [await as('lab', 'planner'), await as('lab'), await as('quality')];
  await lab.givePin(db, [lars.personId], '4711');
  await lab.post(lena, '/api/materials/starting-library', {});
  const { items } = (await lena({ url: '/api/materials?limit=200' })).json<{ items: Material[] }>();
  steel = items.find(({ name }) => name === 'Carbon steel 1075') ?? steel;
});

const at = { temperatureC: 50, voltageV: 2.2, timeS: 480 };
const law = (strength: number) => ({ L: 40, a: 8, b: -30 - 150 * (strength - 0.5) });
const trial = (strength: number): CouponTrial => ({
  ...at,
  ...{ coatingThicknessUm: null, pH: null, currentDensityAPerM2: null, protects: null, run: null },
  grade: 'measured',
  mark: '',
  strength,
  outcome: 'interference',
  lab: law(strength),
  madeOn: '2026-03-02',
  madeBy: 'L. Frost',
});
const ladder = [0.46, 0.47, 0.48, 0.49, 0.5, 0.51, 0.52].map(trial);
let count = 0;
async function approvedSeries(trials: CouponTrial[], extra: object = {}): Promise<CouponSeries> {
  const draft = await lab.post<CouponSeries>(lena, '/api/coupon-series', {
    code: `C-${(count += 1)}`,
    name: 'coupons',
    materialId: steel.id,
    contents: 'hot-caustic',
    component: 'KOH',
    unit: 'massFraction',
    referenceTemperatureC: null,
    preparation: '',
    notes: '',
    changeNote: '',
    trials,
    ...extra,
  });
  const reply = await quentin({
    method: 'POST',
    url: `/api/coupon-series/${draft.id}/approve`,
    headers: { 'if-match': `"${draft.version}"` },
  });
  return reply.json<CouponSeries>();
}
const retire = ({ id, version }: CouponSeries) =>
  quentin({
    method: 'POST',
    url: `/api/coupon-series/${id}/retire`,
    headers: { 'if-match': `"${version}"` },
    payload: { reason: 'the test is over' },
  });
const colourOf = async (bathId: number) =>
  (await lena({ url: `/api/baths/${bathId}/colour` })).json<BathColour>();
/** What the bath says about one series, while only that one is approved. */
async function withSeries<T>(
  trials: CouponTrial[],
  work: (options: CouponSeries) => Promise<T>,
  extra?: object,
) {
  const series = await approvedSeries(trials, extra);
  try {
    return await work(series);
  } finally {
    await retire(series);
  }
}

async function approvedRecipe(
  name: string,
  options: { settings: StepSetting[]; metals?: string[]; mode?: 'voltage' | 'current'; family?: string },
) {
  const mode = options.mode ?? 'voltage';
  const colour: NewStep = {
    kind: 'colour',
    title: 'Peacock',
    instructions: '',
    contents: 'hot-caustic',
    durationS: 500,
    dripS: 10,
    settings: options.settings,
    cautions: [],
    record: [],
    electrical: {
      mode,
      programme: [{ kind: 'hold', to: mode === 'voltage' ? 2.2 : 900, seconds: 480 }],
      peakCurrentDensityAPerM2: 1000,
      steadyCurrentDensityAPerM2: 1000,
      timeConstantS: null,
      averageVoltageV: 2.1,
      chargeCPerM2: null,
    },
  };
  const { id, version, recipe } = await lab.post<RecipeRevision>(lena, '/api/recipes', {
    name,
    family: 'caustic-colour',
    baseMetals: options.metals ?? ['steel'],
    colour: '',
    notes: '',
    changeNote: '',
    steps: [colour],
  });
  await quentin({
    method: 'POST',
    url: `/api/recipe-revisions/${id}/approve`,
    headers: { 'if-match': `"${version}"` },
    // The coupons are what is asked about: none may stand behind the recipe beforehand.
    payload: { unprovedReason: 'asked of a bath by a test' },
  });
  return recipe;
}
const warm: StepSetting = { quantity: 'temperatureC', target: null, low: 48, high: 52 };

describe('colour now', () => {
  it('is nothing in a tank that no current runs in', async () => {
    const tank = await lab.post<{ id: number }>(lena, '/api/tanks', {
      ...{ code: 'RINSE', name: 'Rinse', kind: 'rinse', contents: 'water-rinse' },
      ...{ insideLengthMm: 1000, insideWidthMm: 600, insideDepthMm: 850, workingVolumeL: 400 },
      ...{ heaterKw: 0, coolerKw: 0, cover: 'none', temperatureMinC: null, temperatureMaxC: null },
      ...{ lineOrder: 1, notes: '' },
    });
    const bath = await lab.post<{ id: number }>(lena, `/api/tanks/${tank.id}/baths`, { notes: '' });
    expect(await colourOf(bath.id)).toEqual({ colours: false, items: [] });
  });

  it('is untested, with its reason, until coupons, target and analysis are there; then it is what they say', async () => {
    const of = await lab.equipLab(lena);
    expect(await colourOf(of.bath.id)).toEqual({ colours: true, items: [] });

    await withSeries(ladder, async (series) => {
      const only = async () => (await colourOf(of.bath.id)).items[0];
      expect(await only()).toMatchObject({
        series: { id: series.id },
        setting: at,
        gap: 'not-analysed',
        colour: null,
      });

      const { results } = await lab.analyse(lena, of);
      const koh = results.find(({ component }) => component === 'KOH');
      const present = koh?.value ?? NaN;
      expect(present).toBeGreaterThan(0.47);
      expect(present).toBeLessThan(0.5);
      const item = await only();
      expect(item).toMatchObject({
        gap: null,
        strength: { target: 0.5, present, standardUncertainty: koh?.standardUncertainty },
        outcome: { target: 'interference', present: 'interference' },
        support: { near: 7, coloured: 7, strengths: { low: 0.46, high: 0.52 }, nearest: { strength: 0.5 } },
      });
      expect(item?.colour?.deltaE).toBeCloseTo(deltaE2000(law(0.5), law(present)), 6);
      expect(item?.colour?.spreadDeltaE).toBeGreaterThan(0);

      const noTarget = lab.kohSetup.components.map((one) => ({ ...one, target: null }));
      await lab.putSetup(lena, of.bath.id, { ...lab.kohSetup, components: noTarget });
      expect(await only()).toMatchObject({ gap: 'no-target', colour: null, strength: null });
      const bare: NewBathSetup = { ...lab.kohSetup, components: [], plans: [], impurity: null };
      await lab.putSetup(lena, of.bath.id, bare);
      expect(await only()).toMatchObject({ gap: 'strength-not-watched', colour: null });
    });
    expect(await colourOf(of.bath.id), 'a retired series predicts nothing').toEqual({
      colours: true,
      items: [],
    });
  });

  it('is untested again once something was added, until the next sample', async () => {
    const of = await lab.equipLab(lena);
    const { id } = await lab.analyse(lena, of);
    await withSeries(ladder, async (series) => {
      const gapNow = async () => {
        const { items } = await colourOf(of.bath.id);
        return items
          .filter((item) => item.series?.id === series.id)
          .map(({ gap, colour }) => [gap, colour === null]);
      };
      expect(await gapNow()).toEqual([[null, false]]);
      const planned = await lab.plan(lena, of, id);
      const done = lab.asPlanned(planned, { checker: { personId: lars.personId, pin: '4711' } });
      await lab.post(lena, `/api/additions/${planned.id}/complete`, done);
      expect(await gapNow()).toEqual([['changed-since', true]]);
      await lab.analyse(lena, of);
      expect(await gapNow()).toEqual([[null, false]]);
    });
  });

  it('of a recipe is asked at its own settings, on the metals that coupons were made of', async () => {
    const of = await lab.equipLab(lena);
    await lab.analyse(lena, of);
    await withSeries(ladder, async (series) => {
      const near = await approvedRecipe('near', { settings: [warm] });
      const hot = await approvedRecipe('hot', {
        settings: [{ quantity: 'temperatureC', target: 90, low: null, high: null }],
      });
      const open = await approvedRecipe('no temperature', { settings: [] });
      const byCurrent = await approvedRecipe('by current', { settings: [warm], mode: 'current' });
      const both = await approvedRecipe('two metals', {
        settings: [warm],
        metals: ['steel', 'stainless-steel'],
      });
      const { items } = await colourOf(of.bath.id);
      const ofRecipe = (number: string) => items.filter(({ recipe }) => recipe?.number === number);

      expect(ofRecipe(near.number)).toMatchObject([{ setting: at, series: { id: series.id }, gap: null }]);
      expect(ofRecipe(near.number)[0]?.colour?.deltaE).toBeGreaterThan(0);
      expect(ofRecipe(hot.number)).toMatchObject([{ gap: 'no-trial-near', colour: null }]);
      expect(ofRecipe(open.number)).toMatchObject([{ gap: 'no-setting', setting: null, colour: null }]);
      expect(ofRecipe(byCurrent.number)).toMatchObject([{ gap: 'no-setting', colour: null }]);
      expect(ofRecipe(both.number)).toMatchObject([
        { baseMetals: ['steel'], gap: null },
        { baseMetals: ['stainless-steel'], series: null, gap: 'no-series', colour: null },
      ]);
      expect(
        items.filter(({ recipe }) => recipe === null),
        'the series is used',
      ).toEqual([]);
    });
    const { items } = await colourOf(of.bath.id);
    expect(items).not.toHaveLength(0);
    expect(items.every(({ gap, colour }) => gap === 'no-series' && colour === null)).toBe(true);
  });

  it('is that of the alloy that was ordered, alloy by alloy: coupons of another say nothing about it', async () => {
    const of = await lab.equipLab(lena);
    await lab.analyse(lena, of);
    const { id: customerId } = await db.prisma.customer.create({
      data: { number: 'C-00001', name: 'Oakley Lane Cutlery', currency: 'EUR' },
    });
    const { items: library } = (await lena({ url: '/api/materials?limit=200' })).json<{
      items: Material[];
    }>();
    const welded = library.find(({ name }) => name.startsWith('Pattern-welded')) ?? steel;
    const estimator = await as('estimator');
    const order = async (recipe: { number: string }, material: Material) => {
      const part = await addPart(estimator, {
        customerId,
        ...partFacts(material.id, { number: `${recipe.number} ${material.name}` }),
      });
      const { id } = await db.prisma.recipeRevision.findFirstOrThrow({
        where: { recipe: { number: recipe.number } },
      });
      const line = { position: 1, partId: part.id, recipeRevisionId: id, quantity: 12 };
      const price = { totalPrice: 120, unitPrice: 10, dueDate: new Date('2026-12-24') };
      await db.prisma.order.create({
        data: {
          ...{ number: `O-${part.id}`, customerId, currency: 'EUR', createdById: lars.personId },
          lines: { create: { ...line, ...price } },
        },
      });
    };
    await withSeries(ladder, async (series) => {
      const one = await approvedRecipe('one alloy', { settings: [warm] });
      const two = await approvedRecipe('two alloys', { settings: [warm] });
      await order(one, welded);
      await order(two, welded);
      await order(two, steel);
      const { items } = await colourOf(of.bath.id);
      const ofRecipe = (number: string) => items.filter(({ recipe }) => recipe?.number === number);
      const nameOf = ({ name, condition }: Material) => [name, condition].filter(Boolean).join(', ');
      const untested = { alloy: nameOf(welded), series: null, gap: 'no-series', colour: null };
      expect(ofRecipe(one.number)).toMatchObject([untested]);
      expect(ofRecipe(two.number)).toMatchObject([
        { alloy: nameOf(steel), series: { id: series.id }, gap: null },
        untested,
      ]);
      expect(ofRecipe(two.number)[0]?.colour?.deltaE).toBeGreaterThan(0);
    });
  });

  it('rests on approved coupons of this kind of bath only, in the unit it is watched in', async () => {
    const of = await lab.equipLab(lena);
    await lab.analyse(lena, of);
    const inSalt = { contents: 'mild-salt', materialId: steel.id };
    await withSeries(
      ladder,
      async (series) => {
        const { items } = await colourOf(of.bath.id);
        expect(items.some((item) => item.series?.id === series.id)).toBe(false);
      },
      inSalt,
    );
    const inGrams = { unit: 'gramsPerLitre', referenceTemperatureC: 20 };
    await withSeries(
      ladder.map((one) => ({ ...one, strength: one.strength * 1512 })),
      async (series) => {
        const { items } = await colourOf(of.bath.id);
        const its = items.filter((item) => item.series?.id === series.id);
        expect(its).not.toHaveLength(0);
        expect(its.map(({ gap }) => gap)).not.toContain(null);
      },
      inGrams,
    );
  });
});
