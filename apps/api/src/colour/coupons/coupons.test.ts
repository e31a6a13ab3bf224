import type {
  AuditEntry,
  CouponSeries,
  CouponSeriesItem,
  Material,
  NewCouponSeries,
  NewCouponTrial,
} from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import { type Ask, testApp, type TestApp } from '../../../../../tests/support/app.ts';
import { post } from '../../../../../tests/support/lab.ts';

type Person = Awaited<ReturnType<TestApp['as']>>;
const { as, db } = await testApp();
let author: Person;
let second: Person;
let operator: Person;
const materials = new Map<string, Material>();
beforeAll(async () => {
  [author, second, operator] = [await as('lab'), await as('quality'), await as('operator')];
  await post(author, '/api/materials/starting-library', {});
  const { items } = (await author({ url: '/api/materials?limit=200' })).json<{ items: Material[] }>();
  for (const one of items) materials.set(one.name, one);
});

const trial = (extra: Partial<NewCouponTrial> = {}): NewCouponTrial => ({
  mark: 'K1',
  coatingThicknessUm: null,
  pH: null,
  currentDensityAPerM2: null,
  protects: null,
  grade: 'measured',
  run: null,
  temperatureC: 50,
  voltageV: 2.2,
  timeS: 480,
  strength: 0.5,
  outcome: 'interference',
  lab: { L: 40, a: 8, b: -30 },
  madeOn: '2026-03-02',
  madeBy: 'L. Frost',
  ...extra,
});
let count = 0;
const series = (extra: Partial<NewCouponSeries> = {}): NewCouponSeries => ({
  code: `ST-${(count += 1)}`,
  name: '1075 in caustic',
  materialId: materials.get('Carbon steel 1075')?.id ?? 0,
  contents: 'hot-caustic',
  component: 'KOH',
  unit: 'massFraction',
  referenceTemperatureC: null,
  preparation: 'ground to 600, degreased',
  notes: '',
  changeNote: '',
  trials: [trial(), trial({ mark: 'K2', strength: 0.48 })],
  photos: [],
  ...extra,
});
const url = '/api/coupon-series';
const started = (extra: Partial<NewCouponSeries> = {}) => post<CouponSeries>(author, url, series(extra));
const send = (
  ask: Ask,
  { id, version }: CouponSeries,
  extra: { verb?: string; payload?: object; method?: 'PUT' | 'DELETE' },
) =>
  ask({
    method: extra.method ?? 'POST',
    url: `${url}/${id}${extra.verb ? `/${extra.verb}` : ''}`,
    headers: { 'if-match': `"${version}"` },
    payload: extra.payload ?? {},
  });
const approved = async (extra: Partial<NewCouponSeries> = {}) =>
  (await send(second, await started(extra), { verb: 'approve' })).json<CouponSeries>();
const issuesOf = (reply: Awaited<ReturnType<Ask>>) =>
  (reply.json<{ issues?: { path: string }[] }>().issues ?? []).map(({ path }) => path);
const historyOf = async (id: number) =>
  (await author({ url: `/api/history/coupons/${id}` })).json<{ items: AuditEntry[] }>().items;

describe('a draft', () => {
  it('keeps every coupon as it was typed, and says who wrote it', async () => {
    const input = series();
    const draft = await post<CouponSeries>(author, url, input);
    expect(draft).toMatchObject({ status: 'draft', revision: 1, trials: input.trials, trialCount: 2 });
    expect(draft.writers.map(({ id }) => id)).toEqual([author.personId]);
    expect((await author({ url: `${url}/${draft.id}` })).json()).toEqual(draft);
  });

  it('is changed by whoever names its version; the history says which coupon changed from what to what', async () => {
    const draft = await started();
    const { code } = draft;
    const changed = series({ code, trials: [trial(), trial({ mark: 'K2', strength: 0.47 }), trial()] });
    const reply = await send(second, draft, { method: 'PUT', payload: changed });
    expect(reply.json<CouponSeries>()).toMatchObject({ version: 2, trials: changed.trials });
    const clash = await send(author, draft, { method: 'PUT', payload: series({ code }) });
    expect(clash.statusCode).toBe(412);
    const [entry] = await historyOf(draft.id);
    expect(entry?.changes.map(({ field }) => field)).toEqual(['coupon 2', 'coupon 3']);
    expect(entry?.changes[0]?.old).toContain('0.48');
    expect(entry?.changes[0]?.new).toContain('0.47');
  });

  it('is thrown away, and with it its coupons; the history keeps that there was one', async () => {
    const draft = await started();
    expect((await send(author, draft, { method: 'DELETE' })).statusCode).toBe(200);
    expect((await author({ url: `${url}/${draft.id}` })).statusCode).toBe(404);
    expect(await db.prisma.couponTrial.count({ where: { seriesId: draft.id } })).toBe(0);
    expect((await historyOf(draft.id))[0]).toMatchObject({ action: 'discarded the draft' });
  });

  it.each([
    ['a metal that the bath eats', { materialId: 'Aluminium 6061' }, 'materialId'],
    ['a material that there is none of', { materialId: 999_999 }, 'materialId'],
    ['air', { contents: 'air' }, 'contents'],
    ['litres without their temperature', { unit: 'gramsPerLitre' }, 'referenceTemperatureC'],
    ['a temperature for a mass fraction', { referenceTemperatureC: 20 }, 'referenceTemperatureC'],
    ['more than all of the mass', { trials: [trial({ strength: 50 })] }, 'trials.0.strength'],
    ['a coupon of tomorrow', { trials: [trial({ madeOn: '2099-01-01' })] }, 'trials.0.madeOn'],
    ['no time', { trials: [trial({ timeS: 0 })] }, 'trials.0.timeS'],
    ['nobody', { trials: [trial({ madeBy: ' ' })] }, 'trials.0.madeBy'],
    ['a colour that is none', { trials: [trial({ lab: { L: 140, a: 0, b: 0 } })] }, 'trials.0.lab.L'],
    ['steel in caustic without a voltage', { trials: [trial({ voltageV: null })] }, 'trials.0.voltageV'],
    ['a pH of caustic', { trials: [trial({ pH: 14 })] }, 'trials.0.pH'],
    ['steel that took dye', { trials: [trial({ outcome: 'dyed' })] }, 'trials.0.outcome'],
    ['a photo without a colour', { trials: [trial({ grade: 'photo', lab: null })] }, 'trials.0.lab'],
    ['words with figures', { trials: [trial({ grade: 'word' })] }, 'trials.0.grade'],
  ])('refuses %s, naming the field', async (_, change, path) => {
    const { materialId } = change as { materialId?: string | number };
    const id = typeof materialId === 'string' ? { materialId: materials.get(materialId)?.id } : {};
    const before = await db.prisma.couponSeries.count();
    const reply = await author({ method: 'POST', url, payload: { ...series(), ...change, ...id } });
    expect(reply.statusCode, reply.body).toBe(422);
    expect(issuesOf(reply)).toContain(path);
    expect(await db.prisma.couponSeries.count()).toBe(before);
  });

  const dyed = (extra: Partial<NewCouponTrial> = {}) =>
    trial({ voltageV: null, coatingThicknessUm: 12, pH: 5.5, outcome: 'dyed', temperatureC: 55, ...extra });
  const inDye = (trials: NewCouponTrial[]) =>
    series({
      ...{ contents: 'dye', component: 'dye', unit: 'gramsPerLitre', referenceTemperatureC: 20, trials },
      materialId: materials.get('Aluminium 6063')?.id ?? 0,
    });

  it('of dyed aluminium was refused for having no voltage', async () => {
    const draft = await post<CouponSeries>(author, url, inDye([dyed(), dyed({ protects: true })]));
    expect(draft.trials).toMatchObject([
      { voltageV: null, coatingThicknessUm: 12, pH: 5.5, protects: null },
      { protects: true },
    ]);
    const csv = (await author({ url: `${url}/${draft.id}/trials.csv` })).body.split('\r\n');
    expect(csv[0]).toContain(
      'mark,coatingThicknessUm,temperatureC,timeS,strength,outcome,L,a,b,madeOn,madeBy,pH,protects,grade',
    );
    expect(csv[2]).toContain(',5.5,yes,measured');
  });

  it.each([
    ['with a voltage', dyed({ voltageV: 15 }), 'trials.0.voltageV'],
    ['without a coating', dyed({ coatingThicknessUm: null }), 'trials.0.coatingThicknessUm'],
    ['with interference', dyed({ outcome: 'interference' }), 'trials.0.outcome'],
  ])('of dyed aluminium %s is refused, naming the field', async (_, one, path) => {
    expect(issuesOf(await author({ method: 'POST', url, payload: inDye([one]) }))).toEqual([path]);
  });

  it('says how each colour is known where whoever entered it did not', async () => {
    const plain = trial({ grade: undefined as never });
    const draft = await started({ trials: [plain, { ...plain, lab: null }] });
    expect(draft.trials.map(({ grade }) => grade)).toEqual(['measured', 'word']);
  });

  it('was stored without a voltage behind the rules', async () => {
    const { id } = await started();
    const store = db.prisma.couponTrial.updateMany({ where: { seriesId: id }, data: { voltageV: null } });
    await expect(store).rejects.toThrow(/has a voltage/);
    const graded = db.prisma.couponTrial.updateMany({ where: { seriesId: id }, data: { grade: 'word' } });
    await expect(graded).rejects.toThrow(/coupon_trial_grade/);
  });

  it('has a code of its own', async () => {
    const { code } = await started();
    expect(issuesOf(await author({ method: 'POST', url, payload: series({ code }) }))).toEqual(['code']);
    const other = await started();
    const renamed = await send(author, other, { method: 'PUT', payload: series({ code }) });
    expect(issuesOf(renamed)).toEqual(['code']);
  });

  it('of two that take the same code at the same time is one', async () => {
    const input = series();
    const replies = await Promise.all(
      [author, second].map((ask) => ask({ method: 'POST', url, payload: input })),
    );
    const codes = replies.map(({ statusCode }) => statusCode).sort();
    expect(codes[0]).toBe(201);
    expect([409, 422]).toContain(codes[1]);
    expect(await db.prisma.couponSeries.count({ where: { code: input.code } })).toBe(1);
  });

  it('is nothing for whoever may not write', async () => {
    expect((await operator({ method: 'POST', url, payload: series() })).statusCode).toBe(403);
    expect((await operator({ url })).statusCode).toBe(200);
  });
});

describe('approval', () => {
  it('is by somebody who wrote nothing of it', async () => {
    const draft = await started();
    expect((await send(author, draft, { verb: 'approve' })).statusCode).toBe(403);
    const changed = await send(second, draft, { method: 'PUT', payload: series({ code: draft.code }) });
    const now = changed.json<CouponSeries>();
    expect((await send(second, now, { verb: 'approve' })).statusCode).toBe(403);
    const third = await as('lab');
    const reply = await send(third, now, { verb: 'approve' });
    expect(reply.json<CouponSeries>()).toMatchObject({ status: 'approved', version: 3 });
    expect((await historyOf(draft.id)).map(({ action }) => action)).toEqual([
      'approved',
      'changed',
      'drafted with 2 coupons',
    ]);
  });

  it('wants at least one coupon, and the version that was looked at', async () => {
    const empty = await started({ trials: [] });
    expect(issuesOf(await send(second, empty, { verb: 'approve' }))).toEqual(['trials']);
    const draft = await started();
    expect((await send(second, { ...draft, version: 7 }, { verb: 'approve' })).statusCode).toBe(412);
  });

  it('freezes the series and its coupons, in the database too', async () => {
    const done = await approved();
    const change = await send(author, done, { method: 'PUT', payload: series({ code: done.code }) });
    expect(change.json()).toMatchObject({ code: 'immutable' });
    expect((await send(author, done, { method: 'DELETE' })).json()).toMatchObject({ code: 'immutable' });
    for (const statement of [
      `update coupon_series set notes = 'better' where id = ${done.id}`,
      `update coupon_series set status = 'draft', "approvedById" = null, "approvedAt" = null where id = ${done.id}`,
      `delete from coupon_series where id = ${done.id}`,
      `update coupon_trial set strength = 0.6 where "seriesId" = ${done.id}`,
      `delete from coupon_trial where "seriesId" = ${done.id}`,
      `insert into coupon_trial select nextval('coupon_trial_id_seq'), "seriesId", 99, mark, "temperatureC", "voltageV", "timeS",
         strength, outcome, "labL", "labA", "labB", "madeOn", "madeBy" from coupon_trial where "seriesId" = ${done.id} limit 1`,
    ])
      await expect(db.pool.query(statement), statement).rejects.toMatchObject({ code: 'HU001' });
    expect((await author({ url: `${url}/${done.id}` })).json()).toEqual(done);
  });

  it('is not written past the rule of two in the database', async () => {
    const draft = await started();
    const statement = `update coupon_series set status = 'approved', "approvedById" = ${author.personId}, "approvedAt" = now() where id = ${draft.id}`;
    await expect(db.pool.query(statement)).rejects.toMatchObject({
      constraint: 'coupon_series_second_person',
    });
  });

  it('happens once, however many ask at the same time', async () => {
    const draft = await started();
    const others = await Promise.all([as('quality'), as('lab'), as('owner')]);
    const replies = await Promise.all(others.map((ask) => send(ask, draft, { verb: 'approve' })));
    expect(replies.map(({ statusCode }) => statusCode).sort()).toEqual([200, 409, 409]);
  });
});

describe('a correction', () => {
  it('makes a successor: the revision before stays in force until it is approved, then both stand', async () => {
    const first = await approved();
    const revise = (ask: Ask) =>
      ask({ method: 'POST', url: `${url}/${first.id}/revisions`, payload: { changeNote: 'K2 misread' } });
    const draft = (await revise(author)).json<CouponSeries>();
    expect(draft).toMatchObject({
      revision: 2,
      status: 'draft',
      trials: first.trials,
      changeNote: 'K2 misread',
    });
    expect((await revise(second)).statusCode).toBe(409);
    expect((await author({ url: `${url}/${first.id}` })).json()).toMatchObject({ status: 'approved' });

    await send(second, draft, { verb: 'approve' });
    const before = (await author({ url: `${url}/${first.id}` })).json<CouponSeries>();
    expect(before).toMatchObject({ status: 'superseded', trials: first.trials });
    expect(before.revisions.map(({ status }) => status)).toEqual(['approved', 'superseded']);
    expect((await historyOf(first.id))[0]).toMatchObject({ action: 'superseded' });
  });

  it('or the series is retired with a reason, once', async () => {
    const done = await approved();
    expect(issuesOf(await send(second, done, { verb: 'retire' }))).toEqual(['reason']);
    const retired = (
      await send(second, done, { verb: 'retire', payload: { reason: 'another steel' } })
    ).json<CouponSeries>();
    expect(retired).toMatchObject({ status: 'retired', endReason: 'another steel' });
    const again = await send(second, retired, { verb: 'retire', payload: { reason: 'again' } });
    expect(again.json()).toMatchObject({ code: 'immutable' });
  });
});

describe('lists', () => {
  it('page by code, and leave out what is over unless asked', async () => {
    const prefix = 'LIST';
    for (const n of [3, 1, 2]) await started({ code: `${prefix}-${n}` });
    const done = await approved({ code: `${prefix}-4` });
    await send(second, done, { verb: 'retire', payload: { reason: 'over' } });
    const read = async (extra: string) =>
      (await author({ url: `${url}?search=${prefix}-&${extra}` })).json<{
        items: CouponSeriesItem[];
        next: string | null;
      }>();
    const first = await read('limit=2');
    const rest = await read(`limit=2&after=${first.next}`);
    const codes = [...first.items, ...rest.items].map(({ code }) => code);
    expect(codes).toEqual([1, 2, 3].map((n) => `${prefix}-${n}`));
    expect(rest.next).toBeNull();
    expect((await read('status=retired')).items.map(({ code }) => code)).toEqual([`${prefix}-4`]);
    expect((await read('contents=mild-salt&status=all')).items).toEqual([]);
    const csv = await author({ url: `${url}.csv?search=${prefix}-&status=all` });
    expect(csv.body.trim().split('\r\n')).toHaveLength(5);
  });

  it('save the coupons of a series as CSV, and the search box finds it', async () => {
    const draft = await started({
      code: 'FINDME',
      trials: [trial(), trial({ mark: '', lab: null, grade: null })],
    });
    const csv = await author({ url: `${url}/${draft.id}/trials.csv` });
    expect(csv.body.split('\r\n')).toEqual([
      '\uFEFFmark,temperatureC,voltageV,timeS,strength,outcome,L,a,b,madeOn,madeBy,currentDensityAPerM2,protects,grade',
      'K1,50,2.2,480,0.5,interference,40,8,-30,2026-03-02,L. Frost,,unknown,measured',
      ',50,2.2,480,0.5,interference,,,,2026-03-02,L. Frost,,unknown,word',
      '',
    ]);
    const found = await operator({ url: '/api/search?q=findme' });
    expect(found.json()).toMatchObject({
      items: [{ kind: 'couponSeries', page: { kind: 'couponSeries', id: draft.id } }],
    });
  });
});
