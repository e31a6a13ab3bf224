import { filmColour, type Lab, thicknessFromVoltage } from '@huelot/calc';
import type {
  AuditEntry,
  Calibration,
  CalibrationDrift,
  CouponSeries,
  NewCalibration,
  PageRef,
  RecipeEvidence,
  RecipeRevision,
  RecipeRevisionRef,
  VoltageReach,
} from '@huelot/contracts';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Ask } from '../../../../../tests/support/app.ts';
import { ladder, ladderColour } from '../../../../../tests/support/calibrations.ts';
import { mainLine, ok, post } from '../../../../../tests/support/main-line.ts';
import { asGrowth } from './law.ts';

const { db, as, shop, estimator, operator, quality, releasedLots, signAll } = await mainLine();
const lab = await as('lab');
let metal: number;
beforeAll(() => {
  metal = shop.materialId;
});

let count = 0;
async function approvedSeries(
  coupons: readonly { voltageV: number; lab: Lab; madeOn?: string }[],
  extra: object = {},
): Promise<CouponSeries> {
  const draft = await ok<CouponSeries>(
    post(lab, '/coupon-series', {
      ...{ code: `TI-${(count += 1)}`, name: 'Ladder', materialId: metal, contents: 'mild-salt' },
      ...{ component: 'Na3PO4', unit: 'gramsPerLitre', referenceTemperatureC: 20 },
      ...{ preparation: 'Ground to 400', notes: '', changeNote: '' },
      trials: coupons.map(({ voltageV, lab: colour, madeOn = '2026-01-05' }, index) => ({
        ...{ mark: `T${count}-${index + 1}`, temperatureC: 21, voltageV, timeS: 60, strength: 30 },
        ...{ outcome: 'interference', lab: colour, madeOn, madeBy: 'L. Frost' },
      })),
      ...extra,
    }),
    201,
  );
  const headers = { 'if-match': `"${draft.version}"` };
  return ok<CouponSeries>(post(quality, `/coupon-series/${draft.id}/approve`, {}, headers));
}
const entered = (seriesIds: number[], extra: Partial<NewCalibration> = {}): NewCalibration => ({
  ...{ code: `CAL-${(count += 1)}`, name: 'Grade 2 in phosphate', film: 'TiO2_Franta2015' },
  ...{ substrate: 'Ti_Johnson1974', angleDeg: 0, voidFraction: 0, surface: 'ground to 400, etched' },
  ...{ notes: '', changeNote: '', seriesIds, rejected: [], counted: null },
  ...extra,
});
const started = (seriesIds: number[], extra: Partial<NewCalibration> = {}) =>
  ok<Calibration>(post(lab, '/calibrations', entered(seriesIds, extra)), 201);
const act = (ask: Ask, { id, version }: Calibration, verb: string) =>
  post(ask, `/calibrations/${id}/${verb}`, {}, { 'if-match': `"${version}"` });
const approved = async (extra: Partial<NewCalibration> = {}) => {
  const { id } = await approvedSeries(ladder);
  return ok<Calibration>(act(quality, await started([id], extra), 'approve'));
};
const paths = (reply: { json: <T>() => T }) =>
  (reply.json<{ issues?: { path: string }[] }>().issues ?? []).map(({ path }) => path);
const reread = ({ id }: Calibration) => ok<Calibration>(operator({ url: `/api/calibrations/${id}` }));

describe('the colour that a part asks for', () => {
  afterAll(async () => {
    metal = shop.materialId;
    const data = { materialId: metal, colourStandardId: null };
    await db.prisma.part.update({ where: { id: shop.partId }, data });
  });
  const reach = () => ok<VoltageReach>(estimator({ url: `/api/parts/${shop.partId}/voltage-reach` }));
  async function askFor(target: Lab, extra: object = {}) {
    const standard = await ok<{ revisionId: number; standardId: number; version: number }>(
      post(estimator, '/colour-standards', {
        ...{ code: `STD-${(count += 1)}`, customerId: null, name: 'Blue', target, light: null, dark: null },
        ...{ conditions: { geometry: 'd8-included', illuminant: 'D65', observerDeg: 2 }, instrument: 'SP-1' },
        ...{ tolerance: { from: 'target', deltaE: 3, kL: 1, kC: 1, kH: 1 }, sample: null, grade: 'measured' },
        ...{
          agreedBy: '',
          agreedOn: null,
          expiresOn: null,
          photoId: null,
          notes: '',
          changeNote: '',
          ...extra,
        },
      }),
      201,
    );
    const data = { colourStandardId: standard.standardId };
    await db.prisma.part.update({ where: { id: shop.partId }, data });
  }

  it('is reached by no voltage: the nearest one and its difference are said before it is quoted', async () => {
    // A green that no film of titanium has.
    await askFor({ L: 50, a: -60, b: 60 });
    const { nearest, law } = await reach();
    expect(law).not.toBeNull();
    expect(nearest).toHaveLength(1);
    expect(nearest[0]).toMatchObject({ passes: false, toleranceDeltaE: 3, zone: '', window: null });
    expect(nearest[0]?.deltaE).toBeGreaterThan(10);
  });

  it('is reached by the law of the shop, whose calibration of this very material still holds', async () => {
    metal = (
      await db.prisma.material.create({
        data: {
          ...{
            name: 'Titanium for parts',
            baseMetal: 'titanium',
            densityKgPerM3: 4510,
            heatCapacityJPerKgK: 524,
          },
          ...{ source: 'test', evidence: 'M' },
        },
      })
    ).id;
    await db.prisma.part.update({ where: { id: shop.partId }, data: { materialId: metal } });
    await askFor(ladderColour(22));
    expect(await reach()).toMatchObject({ law: 'nominal', calibration: null });
    const { id, code } = await approved();
    const { nearest, ...by } = await reach();
    expect(by).toEqual({ law: 'calibration', calibration: { id, code, revision: 1 } });
    expect(nearest[0]).toMatchObject({ passes: true });
    expect(nearest[0]?.voltageV).toBeCloseTo(22, 0);
    expect(nearest[0]?.window?.lowV).toBeLessThan(22);
  });

  it('is not judged where it was read otherwise, or agreed in words', async () => {
    await askFor(ladderColour(22), { conditions: { geometry: '45-0', illuminant: 'D65', observerDeg: 2 } });
    expect(await reach()).toEqual({ nearest: [], law: null, calibration: null });
  });
});

describe('a draft', () => {
  it('is fitted to the coupons of its series, with their orders and the version of the arithmetic', async () => {
    const { id, code } = await approvedSeries(ladder);
    const draft = await started([id]);
    expect(draft).toMatchObject({ status: 'draft', verdict: 'good', couponCount: 8, rejectedCount: 0 });
    expect(draft.coupons[0]).toMatchObject({
      seriesId: id,
      series: `${code} rev 1`,
      position: 1,
      voltageV: 10,
    });
    const { intervals, growth } = draft.fit;
    expect(intervals?.slopeNmPerV.low).toBeLessThan(2.1);
    expect(intervals?.slopeNmPerV.high).toBeGreaterThan(2.1);
    expect(growth).toMatchObject({ lowestVoltageV: 10, highestVoltageV: 70 });
    expect(draft.fit.coupons.map(({ order }) => order)).toEqual([1, 1, 1, 1, 1, 1, 2, 2]);
    expect(draft.calcVersion).not.toBe('');
    expect(await reread(draft)).toEqual(draft);
  });

  it('one coupon was prepared wrongly: with its reason it is left out, and the history says so', async () => {
    const off = ladder.map((coupon, index) =>
      index === 3 ? { ...coupon, lab: ladderColour(34, 17) } : coupon,
    );
    const { id } = await approvedSeries(off);
    const draft = await started([id]);
    expect(draft.verdict).not.toBe('good');
    const { code } = draft;
    const rejected = [{ seriesId: id, position: 4, reason: 'not etched: its film is uneven' }];
    const changed = await ok<Calibration>(
      lab({
        ...{ method: 'PUT', url: `/api/calibrations/${draft.id}` },
        headers: { 'if-match': `"${draft.version}"` },
        payload: entered([id], { code, rejected }),
      }),
    );
    expect(changed).toMatchObject({ verdict: 'good', couponCount: 7, rejectedCount: 1, version: 2 });
    expect(changed.coupons[3]?.rejected).toBe('not etched: its film is uneven');
    const { items } = await ok<{ items: AuditEntry[] }>(lab({ url: `/api/history/calibration/${draft.id}` }));
    expect(items[0]?.changes.map(({ field }) => field)).toContain('rejected');
  });

  it('published thicknesses make a ladder: they lie within the interval of the law that is fitted to them', async () => {
    // Int. J. Biomater. 2015, 395657, table 1: 48, 92 and 130 nm at 20, 40 and 60 V, by reflectometry and calculation.
    const films = [
      { voltageV: 20, thicknessNm: 48 },
      { voltageV: 40, thicknessNm: 92 },
      { voltageV: 60, thicknessNm: 130 },
    ];
    const { id } = await approvedSeries(
      films.map(({ voltageV, thicknessNm }) => ({
        voltageV,
        lab: filmColour({ system: 'titanium', thicknessNm }).lab,
      })),
    );
    const { fit, verdict } = await started([id]);
    expect(verdict).toBe('good');
    for (const { voltageV, thicknessNm } of films) {
      const { intervalNm } = thicknessFromVoltage({ growth: asGrowth(fit.growth), voltageV });
      expect(intervalNm?.low).toBeLessThan(thicknessNm);
      expect(intervalNm?.high).toBeGreaterThan(thicknessNm);
    }
  });

  it.each([
    ['a set of constants that is none', { film: 'TiO2_Nobody' }, 'film'],
    ['a metal for an oxide', { film: 'Ti_Johnson1974' }, 'film'],
    ['constants of steel', { substrate: 'Fe_Johnson1974' }, 'substrate'],
    ['a series that is none', { seriesIds: [999_999] }, 'seriesIds.0'],
    ['no series', { seriesIds: [] }, 'seriesIds'],
    [
      'a coupon that is none',
      { rejected: [{ seriesId: 1, position: 99, reason: 'x' }] },
      'rejected.0.position',
    ],
    ['no word on the surface', { surface: ' ' }, 'surface'],
    ['an angle past grazing', { angleDeg: 90 }, 'angleDeg'],
  ])('is refused for %s', async (_, extra, path) => {
    const { id } = await approvedSeries(ladder);
    const reply = await post(lab, '/calibrations', entered([id], extra));
    expect(reply.statusCode, reply.body).toBe(422);
    expect(paths(reply)).toContain(path);
  });

  it('is refused on coupons that nobody approved, on two kinds of bath, and on too few voltages', async () => {
    const { id } = await approvedSeries(ladder);
    const unapproved = await ok<CouponSeries>(
      post(lab, `/coupon-series/${id}/revisions`, { changeNote: 'more' }),
      201,
    );
    const acid = await approvedSeries(ladder, { contents: 'dilute-acid', component: 'H2SO4' });
    const few = await approvedSeries(ladder.slice(0, 2));
    for (const [seriesIds, path] of [
      [[unapproved.id], 'seriesIds.0'],
      [[id, acid.id], 'seriesIds.1'],
      [[id, id], 'seriesIds.1'],
      [[few.id], 'seriesIds'],
    ] as const) {
      const reply = await post(lab, '/calibrations', entered([...seriesIds]));
      expect(reply.statusCode, reply.body).toBe(422);
      expect(paths(reply)).toEqual([path]);
    }
  });

  it('is thrown away by whoever may write, and by nobody else', async () => {
    const { id } = await approvedSeries(ladder);
    const draft = await started([id]);
    const discard = (ask: Ask) =>
      ask({
        method: 'DELETE',
        url: `/api/calibrations/${draft.id}`,
        headers: { 'if-match': `"${draft.version}"` },
      });
    expect((await discard(operator)).statusCode).toBe(403);
    expect((await discard(lab)).statusCode).toBe(200);
    expect((await lab({ url: `/api/calibrations/${draft.id}` })).statusCode).toBe(404);
  });
});

describe('approval', () => {
  it('takes a second person, freezes it, and supersedes the revision before', async () => {
    const { id } = await approvedSeries(ladder);
    const draft = await started([id]);
    expect((await act(lab, draft, 'approve')).statusCode).toBe(403);
    const first = await ok<Calibration>(act(quality, draft, 'approve'));
    expect(first).toMatchObject({ status: 'approved', selfApproved: false, expiredAt: null });
    const next = await ok<Calibration>(
      post(lab, `/calibrations/${first.id}/revisions`, { changeNote: 'again' }),
      201,
    );
    expect(next).toMatchObject({ revision: 2, status: 'draft', fit: first.fit });
    await ok(act(quality, next, 'approve'));
    expect((await reread(first)).status).toBe('superseded');
    for (const statement of [
      `update "calibration" set "fit" = "fit" || '{"verdict": "order uncertain"}' where "id" = ${first.id}`,
      `update "calibration" set "name" = 'another' where "id" = ${next.id}`,
      `delete from "calibration" where "id" = ${next.id}`,
    ])
      await expect(db.pool.query(statement), statement).rejects.toMatchObject({ code: 'HU001' });
  });

  it('is refused while the orders are not decided, with the voltage that would decide them', async () => {
    // A pink that films of two orders have within their scatter.
    const high = [
      { voltageV: 110, lab: { L: 72.3, a: 29.8, b: -0.5 } },
      { voltageV: 111, lab: { L: 71.5, a: 32.2, b: -2.4 } },
      { voltageV: 112, lab: { L: 70.7, a: 34.3, b: -4 } },
    ];
    const { id } = await approvedSeries(high);
    const draft = await started([id]);
    expect(draft.verdict).toBe('order uncertain');
    const reply = await act(quality, draft, 'approve');
    expect(reply.statusCode).toBe(422);
    expect(reply.body).toMatch(/Orders not decided: coat one more coupon at \d+(\.5)? V/);
    expect(paths(reply)).toEqual(['fit.verdict']);
  });

  it('could not be had for a series of two orders, though a section had told which it was', async () => {
    const high = [
      { voltageV: 110, lab: { L: 72.3, a: 29.8, b: -0.5 } },
      { voltageV: 111, lab: { L: 71.5, a: 32.2, b: -2.4 } },
      { voltageV: 112, lab: { L: 70.7, a: 34.3, b: -4 } },
    ];
    const { id } = await approvedSeries(high);
    const open = await started([id]);
    const filmOf = ({ offsetNm, slopeNmPerV }: { offsetNm: number; slopeNmPerV: number }) =>
      Math.round(offsetNm + 112 * slopeNmPerV);
    const [rival] = open.fit.alternatives;
    if (rival === undefined) throw new Error('nothing rivals');
    const refusedAs = async (counted: unknown) =>
      paths(
        await post(lab, '/calibrations', entered([id], { counted: counted as NewCalibration['counted'] })),
      );
    expect(await refusedAs({ thicknessNm: filmOf(rival), reason: '' })).toEqual(['counted.reason']);
    expect(await refusedAs({ thicknessNm: 12, reason: 'slipped' })).toEqual(['counted.thicknessNm']);
    expect(await refusedAs({ thicknessNm: -1, reason: 'sign' })).toEqual(['counted.thicknessNm']);
    const counted = { thicknessNm: filmOf(rival), reason: 'Cross-section of the coupon at 112 V' };
    const draft = await started([id], { counted });
    expect(draft).toMatchObject({ verdict: 'good', counted });
    expect(draft.fit.growth.slopeNmPerV).toBeCloseTo(rival.slopeNmPerV, 6);
    const decided = await ok<Calibration>(act(quality, draft, 'approve'));
    await expect(
      db.pool.query(`update "calibration" set "counted" = null where "id" = ${decided.id}`),
    ).rejects.toMatchObject({ code: 'HU001' });
    const next = await ok<Calibration>(
      post(lab, `/calibrations/${decided.id}/revisions`, { changeNote: 'one more look' }),
      201,
    );
    expect(next.counted).toEqual(counted);
  });

  it('is refused where the law misses its own coupons', async () => {
    const grey = ladder.map(({ voltageV, lab: { L } }) => ({ voltageV, lab: { L: L / 2, a: 0, b: 0 } }));
    const { id } = await approvedSeries(grey);
    const draft = await started([id]);
    const reply = await act(quality, draft, 'approve');
    expect(reply.statusCode).toBe(422);
    expect(reply.body).toContain('Wrong constants or surface');
    await expect(
      db.pool.query(
        `update "calibration" set "status" = 'approved', "approvedById" = ${quality.personId}, "approvedAt" = now() where "id" = ${draft.id}`,
      ),
    ).rejects.toThrow(/calibration_decided/);
  });

  it('is refused where a series behind it was retired since', async () => {
    const series = await approvedSeries(ladder);
    const draft = await started([series.id]);
    await ok(
      post(
        quality,
        `/coupon-series/${series.id}/retire`,
        { reason: 'wrong alloy' },
        { 'if-match': `"${series.version}"` },
      ),
    );
    const reply = await act(quality, draft, 'approve');
    expect(reply.statusCode).toBe(422);
    expect(paths(reply)).toEqual(['seriesIds']);
  });
});

describe('drift', () => {
  const today = () => new Date().toISOString().slice(0, 10);
  const driftOf = ({ id }: Calibration) =>
    ok<CalibrationDrift>(lab({ url: `/api/calibrations/${id}/drift` }));
  interface Today {
    sections: { key: string; items: { page: PageRef; title: string }[] }[];
  }
  const expiredToday = async (ask: Ask) =>
    (await ok<Today>(ask({ url: '/api/today' }))).sections.find(({ key }) => key === 'expiredCalibrations')
      ?.items;

  it('a lot read at a known voltage is charted against the law', async () => {
    const calibration = await approved();
    const [lot] = await releasedLots();
    await signAll(lot?.id ?? 0);
    const conditions = { geometry: 'd8-included', illuminant: 'D65', observerDeg: 2 };
    const read = (extra: object) => ({
      ...{
        zone: '',
        place: 'front',
        spot: null,
        grade: 'measured',
        spectrum: null,
        instrumentId: shop.colourMeterId,
        instrument: '',
      },
      ...{ expandedUncertainty: 0.5, outcome: null, confirmed: true, note: '', conditions },
      ...extra,
    });
    await ok(
      post(operator, `/lots/${lot?.id}/colour-readings`, {
        readings: [
          read({ lab: ladderColour(30) }),
          // Read without gloss, or in words: neither can be held against the law.
          read({
            lab: ladderColour(30),
            place: 'back',
            conditions: { ...conditions, geometry: 'd8-excluded' },
          }),
        ],
        ...{ fileName: '', second: null },
      }),
      201,
    );
    const { points, expiredAt } = await driftOf(calibration);
    expect(points).toHaveLength(1);
    expect(points[0]).toMatchObject({ source: 'lot', label: lot?.number, recordId: lot?.id, voltageV: 30 });
    expect(points[0]?.deltaE).toBeLessThan(2);
    expect(expiredAt).toBeNull();
  });

  it('one coupon that is off does not end it, three do; whoever may calibrate is told, and no recipe is drafted by it', async () => {
    const calibration = await approved();
    const off = (voltagesV: number[]) =>
      approvedSeries(
        voltagesV.map((voltageV) => ({ voltageV, lab: ladderColour(voltageV, 14), madeOn: today() })),
      );
    await off([26]);
    expect((await reread(calibration)).expiredAt).toBeNull();
    await off([30, 38]);
    const after = await reread(calibration);
    expect(after.expiredAt).not.toBeNull();
    const mine = (await expiredToday(lab))?.filter(({ page }) => page.id === calibration.id);
    expect(mine).toMatchObject([
      { page: { kind: 'calibration' }, title: expect.stringContaining(calibration.code) as string },
    ]);
    expect(await expiredToday(operator)).toBeUndefined();
    const reply = await post(lab, `/calibrations/${calibration.id}/recipes`, {
      ...{ name: 'Blue', colour: '', target: ladderColour(22), toleranceDeltaE: 3, voltageV: 22 },
    });
    expect(reply.statusCode).toBe(409);
    expect(reply.body).toContain('has drifted');
  });
});

describe('a recipe out of a match', () => {
  const asked = (extra: object = {}) => ({
    ...{ name: 'Deep blue', colour: 'deep blue', target: ladderColour(22), toleranceDeltaE: 3, voltageV: 22 },
    ...extra,
  });
  let calibration: Calibration;
  beforeAll(async () => {
    // What the coupons above say of this material ends no other law.
    metal = (
      await db.prisma.material.create({
        data: {
          ...{
            name: 'Titanium for recipes',
            baseMetal: 'titanium',
            densityKgPerM3: 4510,
            heatCapacityJPerKgK: 524,
          },
          ...{ source: 'test', evidence: 'M' },
        },
      })
    ).id;
    calibration = await approved();
  });
  const drafted = (ask: Ask, extra: object = {}) =>
    post(ask, `/calibrations/${calibration.id}/recipes`, asked(extra));

  it('takes its voltage and limits from the window, the route of the shop, and cites the coupons', async () => {
    const ref = await ok<RecipeRevisionRef>(drafted(lab), 201);
    const revision = await ok<RecipeRevision>(lab({ url: `/api/recipe-revisions/${ref.id}` }));
    const step = revision.steps.find(({ kind }) => kind === 'colour');
    const voltage = step?.settings.find(({ quantity }) => quantity === 'voltageV');
    expect(voltage?.target).toBeCloseTo(22, 0);
    expect(voltage?.low).toBeGreaterThan(21);
    expect(voltage?.high).toBeLessThan(23);
    expect(step?.electrical?.programme.at(-1)?.to).toBe(voltage?.target);
    expect(revision.changeNote).toMatch(
      /^By CAL-\d+ rev 1: dE \d\.\d at 2[12]\.\d V, tolerance dE 3, coupons at 18 and 26 V\.$/,
    );
    const evidence = await ok<RecipeEvidence>(lab({ url: `/api/recipe-revisions/${ref.id}/evidence` }));
    expect(evidence.items.map(({ series }) => series?.id)).toEqual(calibration.seriesIds);
  });

  it('is drafted by an estimator without evidence, which is not theirs to cite, and by no operator', async () => {
    const ref = await ok<RecipeRevisionRef>(drafted(estimator), 201);
    const evidence = await ok<RecipeEvidence>(lab({ url: `/api/recipe-revisions/${ref.id}/evidence` }));
    expect(evidence.items).toEqual([]);
    expect((await drafted(operator)).statusCode).toBe(403);
  });

  it.each([
    [
      'no film of titanium has it',
      { target: { L: 50, a: -60, b: 60 } },
      'target: no voltage comes within dE 3; the nearest is',
    ],
    ['the voltage is in no window', { voltageV: 60 }, 'voltageV: is outside of the nearest window'],
    [
      'the law is less certain than the window is wide',
      { toleranceDeltaE: 0.1 },
      'toleranceDeltaE: leaves no window',
    ],
  ])('is refused where %s', async (_, extra, words) => {
    const reply = await drafted(lab, extra);
    expect(reply.statusCode, reply.body).toBe(422);
    expect(reply.json<{ detail: string }>().detail).toContain(words);
  });

  it('is refused by a draft, and leaves nothing behind where it is refused', async () => {
    const before = await db.prisma.recipe.count();
    const { id } = await approvedSeries(ladder);
    const draft = await started([id]);
    expect((await post(lab, `/calibrations/${draft.id}/recipes`, asked())).statusCode).toBe(409);
    expect(await db.prisma.recipe.count()).toBe(before);
  });
});
