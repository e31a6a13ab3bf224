import type {
  CouponSeries,
  Material,
  ProcessMap,
  ProcessMapItem,
  RecipeRevision,
  Step,
} from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import { testApp, type TestApp } from '../../../../../tests/support/app.ts';
import { post } from '../../../../../tests/support/lab.ts';
import { boxesOf } from './boxes.ts';

type Person = Awaited<ReturnType<TestApp['as']>>;
const { as } = await testApp();
let author: Person;
let second: Person;
let materials: Material[];
beforeAll(async () => {
  [author, second] = [await as('lab'), await as('quality')];
  await post(author, '/api/materials/starting-library', {});
  materials = (await author({ url: '/api/materials?limit=200' })).json<{ items: Material[] }>().items;
});

let count = 0;
async function startSeries({
  name = 'Carbon steel 1075',
  strength = 0.5,
  unit = 'massFraction' as const,
  code = `MAP-${(count += 1)}`,
} = {}) {
  const trial = (temperatureC: number, outcome: 'none' | 'interference') => ({
    ...{ mark: `${temperatureC}`, temperatureC, voltageV: 2.2, timeS: 300, strength, outcome },
    ...{ lab: null, grade: 'word', madeOn: '2026-03-02', madeBy: 'L. Frost' },
  });
  return post<CouponSeries>(author, '/api/coupon-series', {
    ...{ code, name: 'steel in caustic', materialId: materials.find((one) => one.name === name)?.id ?? 0 },
    ...{
      contents: 'hot-caustic',
      component: 'KOH',
      unit,
      referenceTemperatureC: null,
      preparation: 'ground',
      notes: '',
      changeNote: '',
    },
    trials: [trial(30, 'none'), trial(52, 'interference')],
  });
}
const send = ({ id, version }: CouponSeries, verb: string, payload = {}) =>
  second({
    method: 'POST',
    url: `/api/coupon-series/${id}/${verb}`,
    headers: { 'if-match': `"${version}"` },
    payload,
  });
const mapOf = async (id: number) => (await author({ url: `/api/process-maps/${id}` })).json<ProcessMap>();

describe('the ground of a map', () => {
  it('is one material in one kind of bath: another alloy of the same metal lies on another', async () => {
    const [one, other] = [await startSeries(), await startSeries({ name: 'Carbon steel 1018' })];
    const { items } = (await author({ url: '/api/process-maps' })).json<{ items: ProcessMapItem[] }>();
    const names = items.map(({ material }) => material.name);
    expect(names).toContain('Carbon steel 1075');
    expect(names).toContain('Carbon steel 1018');
    const map = await mapOf(one.id);
    expect(map.series.map(({ id }) => id)).not.toContain(other.id);
    expect(map.trials.every(({ seriesId }) => seriesId !== other.id)).toBe(true);
  });

  it('holds the approved revision and the draft of a code, never one that was superseded', async () => {
    const draft = await startSeries();
    const approved = (await send(draft, 'approve')).json<CouponSeries>();
    const next = await post<CouponSeries>(author, `/api/coupon-series/${approved.id}/revisions`, {
      changeNote: 'more of them',
    });
    const both = (await mapOf(approved.id)).series.filter(({ code }) => code === draft.code);
    expect(both.map(({ status }) => status)).toEqual(['approved', 'draft']);
    expect((await send(next, 'approve')).statusCode).toBe(200);
    const after = (await mapOf(approved.id)).series.filter(({ code }) => code === draft.code);
    expect(after.map(({ id, status }) => [id, status])).toEqual([[next.id, 'approved']]);
  });

  it('is not there for a series that is not', async () => {
    expect((await author({ url: '/api/process-maps/999999' })).statusCode).toBe(404);
    expect((await author({ url: '/api/process-maps/x' })).statusCode).toBe(422);
  });
});

describe('a recipe as a box', () => {
  const setting = (quantity: string, [low, target, high]: (number | null)[]) => ({
    quantity,
    low,
    target,
    high,
  });
  const step = (extra: object) =>
    ({
      kind: 'colour',
      title: 'Colour',
      contents: 'hot-caustic',
      durationS: 600,
      electrical: null,
      settings: [setting('temperatureC', [48, 50, 52])],
      ...extra,
    }) as unknown as Step;
  const boxes = (steps: Step[]) =>
    boxesOf(
      { recipe: { id: 1, number: 'R-00001', name: 'Blue' }, revision: 2, steps } as unknown as RecipeRevision,
      'hot-caustic',
    );
  const electrical = {
    mode: 'voltage',
    programme: [
      { kind: 'ramp', to: 2.2, seconds: 20 },
      { kind: 'hold', to: 2.2, seconds: 300 },
    ],
  };

  it('is what the limits allow, with the voltage that is held where none is set', () => {
    expect(boxes([step({ electrical })])).toEqual([
      {
        recipe: { id: 1, number: 'R-00001', name: 'Blue', revision: 2 },
        ...{
          step: 'Colour',
          temperatureC: { low: 48, high: 52 },
          voltageV: { low: 2.2, high: 2.2 },
          timeS: 320,
        },
      },
    ]);
    const set = step({
      electrical,
      settings: [setting('temperatureC', [null, 50, null]), setting('voltageV', [2, null, 2.4])],
    });
    expect(boxes([set])[0]).toMatchObject({
      temperatureC: { low: 50, high: 50 },
      voltageV: { low: 2, high: 2.4 },
    });
  });

  it('is none where no temperature is named, in another bath, or for a step that colours nothing', () => {
    expect(boxes([step({ settings: [] }), step({ contents: 'mild-salt' }), step({ kind: 'rinse' })])).toEqual(
      [],
    );
  });

  it('leaves the voltage open where the step runs on current', () => {
    expect(boxes([step({ electrical: { ...electrical, mode: 'current' } })])[0]).toMatchObject({
      voltageV: null,
    });
  });
});
