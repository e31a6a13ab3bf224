import type { CouponSeries, Material, NewCouponSeries, TrialPlan, TrialRun } from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import { type Ask, testApp, type TestApp } from '../../../../../tests/support/app.ts';
import * as lab from '../../../../../tests/support/lab.ts';
import { ok, post } from '../../../../../tests/support/main-line.ts';

type Person = Awaited<ReturnType<TestApp['as']>>;
const { as, db } = await testApp();
let lena: Person;
let omar: Person;
let quality: Person;
let equipped: lab.EquippedLab;
let steel: Material;
let supplyId = 0;
beforeAll(async () => {
  [lena, omar, quality] = [await as('lab', 'planner'), await as('operator'), await as('quality')];
  await lab.givePin(db, [omar.personId, quality.personId], '4711');
  await lab.post(lena, '/api/materials/starting-library', {});
  const { items } = (await lena({ url: '/api/materials?limit=200' })).json<{ items: Material[] }>();
  steel = items.find(({ name }) => name === 'Carbon steel 1075') ?? steel;
  equipped = await lab.equipLab(lena);
  const supply = await lab.post<{ id: number }>(lena, '/api/power-supplies', {
    ...{ code: 'PS1', name: 'Rectifier', maxVoltageV: 15, maxCurrentA: 100, efficiency: 0.8, notes: '' },
    tankIds: [equipped.tank.id],
  });
  supplyId = supply.id;
});

let count = 0;
const seriesBody = (extra: Partial<NewCouponSeries> = {}) => ({
  ...{ code: `RUN-${(count += 1)}`, name: '1075 in caustic', materialId: steel.id, contents: 'hot-caustic' },
  ...{ component: 'KOH', unit: 'massFraction', referenceTemperatureC: null, preparation: '', notes: '' },
  ...{ changeNote: '', trials: [], ...extra },
});
const started = (extra: Partial<NewCouponSeries> = {}) =>
  lab.post<CouponSeries>(lena, '/api/coupon-series', seriesBody(extra));
const planOf = (seriesId: number, extra: Partial<TrialPlan> = {}): TrialPlan => ({
  ...{ seriesId, tankId: equipped.tank.id, supplyId, kind: 'coupons', pieces: 2, coatingThicknessUm: null },
  ...{ temperatureC: 50, voltageV: 2.2, timeS: 300, intervalS: null, stepMm: null, instructions: '' },
  ...extra,
});
const strip = { kind: 'strip', pieces: 3, timeS: null, intervalS: 60, stepMm: 10 } as const;
const planned = async (seriesId: number, extra: Partial<TrialPlan> = {}) =>
  ok<TrialRun>(post(lena, '/trial-runs', planOf(seriesId, extra)), 201);
/** Asks by somebody, of a run, what the verb says, with a body. */
const act = (...[ask, { id }, verb, payload = {}]: [Ask, { id: number }, string, object?]) =>
  post(ask, `/trial-runs/${id}/${verb}`, payload);
const reading = { temperatureC: 50.5, voltageV: 2.22, currentA: null, pH: null, agoS: 0 };
const plain = { areaMm2: null, reason: '', note: '', signer: null };
const signedIn = async (run: TrialRun) => {
  await ok(act(omar, run, 'in', { agoS: 300 }));
  await ok(act(omar, run, 'readings', { ...reading, agoS: 100 }), 201);
  await ok(act(omar, run, 'out', { agoS: 0 }));
};
const seriesNow = async (id: number) =>
  (await lena({ url: `/api/coupon-series/${id}` })).json<CouponSeries>();
const pathsOf = (reply: Awaited<ReturnType<Ask>>) =>
  (reply.json<{ issues?: { path: string }[] }>().issues ?? []).map(({ path }) => path);
const write = (series: CouponSeries, trials: object[]) =>
  lena({
    method: 'PUT',
    url: `/api/coupon-series/${series.id}`,
    headers: { 'if-match': `"${series.version}"` },
    payload: {
      ...seriesBody({ code: series.code }),
      trials: trials.map((trial) => {
        const { run } = trial as CouponSeries['trials'][number];
        return { ...trial, run: run && { id: run.id, piece: run.piece } };
      }),
    },
  });
const approve = async (id: number) => {
  const { version } = await seriesNow(id);
  return quality({
    method: 'POST',
    url: `/api/coupon-series/${id}/approve`,
    headers: { 'if-match': `"${version}"` },
    payload: {},
  });
};

describe('a plan', () => {
  it.each([
    ['without a voltage', { voltageV: null }, 'voltageV'],
    ['without a supply', { supplyId: null }, 'supplyId'],
    ['of coupons that are lifted', { intervalS: 60 }, 'intervalS'],
    ['of coupons without a time', { timeS: null }, 'timeS'],
    ['of a strip with one band', { ...strip, pieces: 1 }, 'pieces'],
    ['for a tank that there is none of', { tankId: 999_999 }, 'tankId'],
    ['with a coating in caustic', { coatingThicknessUm: 5 }, 'coatingThicknessUm'],
  ] as const)('%s is refused, naming the field', async (_, change, path) => {
    const { id } = await started();
    const reply = await post(lena, '/trial-runs', planOf(id, change));
    expect(reply.statusCode, reply.body).toBe(422);
    expect(pathsOf(reply)).toEqual([path]);
  });

  it('was made for a tank that holds something else, or by an operator', async () => {
    const { id } = await started();
    const salt = await lab.addTank(lena, 'mild-salt');
    expect(pathsOf(await post(lena, '/trial-runs', planOf(id, { tankId: salt.id })))).toEqual(['tankId']);
    expect((await post(omar, '/trial-runs', planOf(id))).statusCode).toBe(403);
  });

  it('shows at its tank until it is signed or withdrawn, and stays on record', async () => {
    const series = await started();
    const run = await planned(series.id);
    expect(run).toMatchObject({ state: 'planned', obstacle: 'not-analysed', draft: { id: series.id } });
    const open = async () =>
      (await omar({ url: `/api/trial-runs?tankId=${equipped.tank.id}` })).json<{ items: TrialRun[] }>().items;
    expect((await open()).map(({ id }) => id)).toContain(run.id);
    await ok(act(lena, run, 'withdraw', { reason: 'another strip first' }));
    expect((await open()).map(({ id }) => id)).not.toContain(run.id);
    expect((await act(lena, run, 'withdraw', { reason: 'again' })).statusCode).toBe(409);
    const finished = (await omar({ url: '/api/trial-runs?state=finished' })).json<{ items: TrialRun[] }>();
    expect(finished.items[0]).toMatchObject({ id: run.id, state: 'withdrawn' });
  });
});

describe('at the tank', () => {
  it('coupons went in before the bath was analysed', async () => {
    const { id } = await started();
    const run = await planned(id);
    const reply = await act(omar, run, 'in', { agoS: 0 });
    expect(reply.statusCode).toBe(409);
    expect(reply.json()).toMatchObject({ detail: expect.stringContaining('never analysed') as string });
    await lab.analyse(lena, equipped);
  });

  it('temperature, voltage, time, bath and concentration come from the record, by PIN', async () => {
    const series = await started();
    const run = await planned(series.id, { pieces: 2 });
    expect((await act(omar, run, 'sign-off', plain)).statusCode).toBe(409);
    const inside = await ok<TrialRun>(act(omar, run, 'in', { agoS: 300 }));
    expect(inside).toMatchObject({ state: 'running', bath: { id: equipped.bath.id } });
    expect((await act(omar, run, 'in', { agoS: 0 })).statusCode).toBe(409);
    expect(pathsOf(await act(omar, run, 'readings', { ...reading, voltageV: null }))).toEqual(['voltageV']);
    await ok(act(omar, run, 'readings', { ...reading, currentA: 0.6, agoS: 10 }), 201);
    expect((await act(omar, run, 'sign-off', plain)).statusCode).toBe(409);
    await ok(act(omar, run, 'out', { agoS: 0 }));
    const wrong = { ...plain, signer: { personId: quality.personId, pin: '0000' } };
    expect((await act(omar, run, 'sign-off', wrong)).json()).toMatchObject({ code: 'wrong-credentials' });
    const signed = await ok<TrialRun>(
      act(omar, run, 'sign-off', {
        ...{ ...plain, areaMm2: 5000, signer: { personId: quality.personId, pin: '4711' } },
      }),
      201,
    );
    expect(signed).toMatchObject({ state: 'signed', landedIn: { id: series.id, revision: 1 } });
    const { trials, writers } = await seriesNow(series.id);
    expect(trials).toHaveLength(2);
    expect(trials[0]).toMatchObject({
      ...{ mark: `${run.number}-1`, temperatureC: 50.5, voltageV: 2.22, outcome: null, grade: 'word' },
      run: { id: run.id, piece: 1, tank: equipped.tank.code, supply: 'PS1' },
    });
    expect(trials[0]?.timeS).toBeGreaterThanOrEqual(300);
    // 0.6 A on 5000 mm² is 120 A/m².
    expect(trials[0]?.currentDensityAPerM2).toBeCloseTo(120, 9);
    expect(trials[0]?.strength).toBe(inside.strength?.value);
    expect(writers.map(({ id }) => id)).toEqual([lena.personId, quality.personId]);
    expect((await act(lena, run, 'withdraw', { reason: 'late' })).json()).toMatchObject({
      code: 'already-signed',
    });
  });

  it('a strip is cut into one trial a band, each with its own time; what the supply was off does not count', async () => {
    const series = await started();
    const run = await planned(series.id, strip);
    await ok(act(omar, run, 'in', { agoS: 200 }));
    await ok(act(omar, run, 'readings', { ...reading, temperatureC: 49, agoS: 190 }), 201);
    await ok(act(omar, run, 'lifts', { position: 1, agoS: 140 }), 201);
    expect((await act(omar, run, 'lifts', { position: 1, agoS: 139 })).statusCode).toBe(409);
    await ok(act(omar, run, 'pauses', { reason: 'clamp slipped', supplyOff: true, agoS: 120 }), 201);
    expect((await act(omar, run, 'lifts', { position: 2, agoS: 110 })).statusCode).toBe(409);
    await ok(act(omar, run, 'resume', { agoS: 100 }));
    await ok(act(omar, run, 'readings', { ...reading, temperatureC: 51, agoS: 90 }), 201);
    await ok(act(omar, run, 'lifts', { position: 2, agoS: 60 }), 201);
    expect((await act(omar, run, 'lifts', { position: 3, agoS: 50 })).statusCode).toBe(409);
    await ok(act(omar, run, 'out', { agoS: 0 }));
    expect(pathsOf(await act(omar, run, 'sign-off', { ...plain, areaMm2: 100 }))).toEqual(['areaMm2']);
    const { results } = await ok<TrialRun>(act(omar, run, 'sign-off', plain), 201);
    expect(results.map(({ timeS }) => Math.round(timeS / 10) * 10)).toEqual([60, 120, 180]);
    expect(results.map(({ temperatureC }) => temperatureC)).toEqual([49, 51, 51]);
    expect((await seriesNow(series.id)).trials.map(({ run: one }) => one?.piece)).toEqual([1, 2, 3]);
  });

  it('was signed away from its plan without a reason', async () => {
    const { id } = await started();
    const run = await planned(id, { temperatureC: 60 });
    await signedIn(run);
    expect(pathsOf(await act(omar, run, 'sign-off', plain))).toEqual(['reason']);
    const reason = 'bath was still heating';
    expect(await ok(act(omar, run, 'sign-off', { ...plain, reason }), 201)).toMatchObject({ reason });
  });

  it('ran in a bath that was stopped, on nobody’s word', async () => {
    const { id } = await started();
    const run = await planned(id);
    await ok(post(lena, `/baths/${equipped.bath.id}/holds`, { additionId: null, reason: 'looked at' }), 201);
    const refused = await act(omar, run, 'in', { agoS: 0 });
    expect(refused.json()).toMatchObject({ code: 'override-needed', current: { state: 'on-hold' } });
    expect((await act(omar, run, 'overrides', { reason: 'a try', by: null })).statusCode).toBe(403);
    const by = { personId: quality.personId, pin: '4711' };
    await ok(act(omar, run, 'overrides', { reason: 'to see what it does', by }), 201);
    expect(await ok(act(omar, run, 'in', { agoS: 0 }))).toMatchObject({
      override: { reason: 'to see what it does', state: 'on-hold' },
      bathStatus: { state: 'on-hold' },
    });
    await lab.release(lena, equipped.bath.id);
  });

  it('a clock that was reset still gave its time to the coupons', async () => {
    const { id } = await started();
    const run = await planned(id);
    await signedIn(run);
    const back = await ok<TrialRun>(act(omar, run, 'reset'));
    expect(back).toMatchObject({ state: 'planned', inAt: null, outAt: null, readings: [], results: [] });
    expect(back.resets).toHaveLength(1);
    expect((await act(omar, run, 'reset')).statusCode).toBe(409);
  });

  it('left no entry in the history of the trial', async () => {
    const { id } = await started();
    const run = await planned(id);
    await signedIn(run);
    await ok(act(omar, run, 'sign-off', plain), 201);
    const { items } = (await lena({ url: `/api/history/trial-run/${run.id}` })).json<{
      items: { action: string }[];
    }>();
    expect(items.map(({ action }) => action).toReversed()).toEqual([
      expect.stringMatching(/^planned 2 coupons/),
      expect.stringMatching(/^stamped In in tank/),
      'wrote down 50.5 °C, 2.22 V',
      'stamped Out',
      expect.stringMatching(/^signed 2 trials into RUN-/),
    ]);
  });
});

describe('what came from a tank', () => {
  const ran = async () => {
    const series = await started();
    const run = await planned(series.id);
    await signedIn(run);
    await ok(act(omar, run, 'sign-off', plain), 201);
    return { series: await seriesNow(series.id), run };
  };

  it('was typed over in the draft, taken twice, or taken for another series', async () => {
    const { series } = await ran();
    const looked = series.trials.map((trial) => ({ ...trial, outcome: 'interference' }));
    const [first = {}, second = {}] = looked;
    const hot = await write(series, [{ ...first, temperatureC: 55 }, second]);
    expect(pathsOf(hot)).toEqual(['trials.0.temperatureC']);
    expect(pathsOf(await write(series, [first, first]))).toEqual(['trials.1.run']);
    const other = await started();
    expect(pathsOf(await write(other, [first]))).toEqual(['trials.0.run']);
    const reply = await write(series, looked);
    expect(reply.statusCode, reply.body).toBe(200);
    expect(reply.json<CouponSeries>().trials[0]).toMatchObject({
      outcome: 'interference',
      run: { piece: 1 },
    });
  });

  it('was approved before anybody had looked at it', async () => {
    const { series } = await ran();
    expect(pathsOf(await approve(series.id))).toEqual(['trials.0.outcome']);
    expect(pathsOf(await write(series, [{ ...series.trials[0], run: null }]))).toEqual(['trials.0.outcome']);
    await write(
      series,
      series.trials.map((trial) => ({ ...trial, outcome: 'interference' })),
    );
    expect((await approve(series.id)).statusCode).toBe(200);
  });

  it('was lost where its draft was approved or discarded meanwhile', async () => {
    const series = await started();
    const run = await planned(series.id);
    await signedIn(run);
    const gone = await lena({
      method: 'DELETE',
      url: `/api/coupon-series/${series.id}`,
      headers: { 'if-match': `"${series.version}"` },
      payload: {},
    });
    expect(gone.statusCode).toBe(200);
    expect(await ok(act(omar, run, 'sign-off', plain), 201)).toMatchObject({ landedIn: null, draft: null });
    expect((await act(lena, run, 'land')).statusCode).toBe(409);
    const again = await started({ code: series.code });
    expect(await ok(act(lena, run, 'land'))).toMatchObject({ landedIn: { id: again.id } });
    expect((await seriesNow(again.id)).trials).toHaveLength(2);
    expect((await act(lena, run, 'land')).statusCode).toBe(409);
  });

  it.each([
    `update "trial_run" set "reason" = 'better' where "id" = $1`,
    `update "trial_run" set "temperatureC" = 51 where "id" = $1`,
    `delete from "trial_run" where "id" = $1`,
    `update "trial_event" set "at" = now() where "runId" = $1`,
    `update "trial_piece" set "timeS" = 1 where "runId" = $1`,
  ])('could be rewritten in the database: %s', async (statement) => {
    const { run } = await ran();
    await expect(db.pool.query(statement, [run.id])).rejects.toMatchObject({ code: 'HU001' });
  });
});
