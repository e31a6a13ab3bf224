import { solutes } from '@huelot/calc';
import {
  type AnalysisMethod,
  type Instrument,
  type NewMethod,
  Solute,
  type TitrantLot,
} from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import { type Ask, testApp } from '../../../../../tests/support/app.ts';
import { post } from '../../../../../tests/support/lab.ts';

const { as, db } = await testApp();
let lena: Ask;
let quentin: Ask;
let omar: Ask;
beforeAll(async () => {
  [lena, quentin, omar] = [await as('lab'), await as('quality'), await as('operator')];
});

const settings: NewMethod['settings'] = {
  titrant: { reagent: 'NaOH', nominalEqPerLitre: 1 },
  sample: { basis: 'volume', amount: 10, dilution: null },
  solute: null,
  secondReading: null,
  aluminium: 'masked',
  procedure: null,
  scale: null,
  indicators: ['phenolphthalein'],
  uncertainty: { readingMl: 0.03, sampleRelative: 0.005, reading: 0 },
  replicates: 2,
  spreadLimit: 0.01,
};
const method = (code: string, extra: Partial<NewMethod> = {}): NewMethod => ({
  code,
  name: 'Free acid',
  kind: 'sulfuric-free-acid',
  settings,
  procedure: '',
  formula: '',
  source: 'shop procedure 12',
  ...extra,
});
const put = (ask: Ask, { url, version, payload }: { url: string; version: number; payload: object }) =>
  ask({ method: 'PUT', url, headers: { 'if-match': `"${version}"` }, payload });
const pathsOf = (reply: Awaited<ReturnType<Ask>>) =>
  (reply.json<{ issues?: { path: string }[] }>().issues ?? []).map(({ path }) => path);

it('know the solutes that the calculation knows', () => {
  expect(Solute.options).toEqual([...solutes]);
});

describe('methods', () => {
  it('to start with are in force, each with its source', async () => {
    const { items } = (await omar({ url: '/api/methods?limit=100' })).json<{ items: AnalysisMethod[] }>();
    expect(items.map(({ code }) => code)).toEqual(
      expect.arrayContaining(['CAUSTIC-2', 'CAUSTIC-BA', 'ACID-AL-F', 'FLOAT', 'AS-FOUND']),
    );
    expect(items.every(({ status, source }) => status === 'in-force' && source.length > 0)).toBe(true);
  });

  it('need what their kind needs', async () => {
    const bare = { ...settings, titrant: null, aluminium: null };
    const reply = await lena({
      method: 'POST',
      url: '/api/methods',
      payload: method('M0', { settings: bare }),
    });
    expect(pathsOf(reply)).toEqual(['settings.titrant', 'settings.aluminium']);
  });

  it('are drafted, put in force, and then stand; the next revision takes their place', async () => {
    const draft = await post<AnalysisMethod>(lena, '/api/methods', method('M1'));
    expect(draft).toMatchObject({ revision: 1, status: 'draft' });
    const url = `/api/methods/${draft.id}`;
    expect(
      (await put(lena, { url, version: 1, payload: method('M1', { name: 'Free acid, fluoride' }) }))
        .statusCode,
    ).toBe(200);
    expect((await put(lena, { url, version: 1, payload: method('M1') })).statusCode).toBe(412);
    expect(pathsOf(await put(lena, { url, version: 2, payload: method('M9') }))).toEqual(['code']);
    const force = (ask: Ask, id: number, version: number) =>
      ask({
        method: 'POST',
        url: `/api/methods/${id}/activate`,
        headers: { 'if-match': `"${version}"` },
        payload: {},
      });
    expect((await force(omar, draft.id, 2)).statusCode).toBe(403);
    expect((await force(quentin, draft.id, 2)).json()).toMatchObject({ status: 'in-force' });
    expect((await put(lena, { url, version: 3, payload: method('M1') })).statusCode).toBe(409);
    await expect(
      db.prisma.analysisMethod.update({ where: { id: draft.id }, data: { formula: 'x' } }),
    ).rejects.toThrow(/make a new revision/);

    const next = await post<AnalysisMethod>(lena, `${url}/revisions`, { changeNote: 'three flasks' });
    expect(next).toMatchObject({ revision: 2, status: 'draft', settings: { replicates: 2 } });
    const twice = await lena({ method: 'POST', url: `${url}/revisions`, payload: { changeNote: 'again' } });
    expect(twice.statusCode).toBe(409);
    expect((await force(lena, next.id, 1)).statusCode).toBe(200);
    const seen = (await lena({ url })).json<{ method: AnalysisMethod; revisions: { status: string }[] }>();
    expect(seen.revisions.map(({ status }) => status)).toEqual(['in-force', 'superseded']);
  });
});

it('instruments say when their calibration is overdue', async () => {
  const facts = {
    code: 'PH-7',
    name: 'pH meter',
    kind: 'ph-meter',
    serial: '77',
    calibrationDueOn: '2020-01-31',
    notes: '',
  };
  const added = await post<Instrument>(lena, '/api/instruments', facts);
  expect(added.calibrationOverdue).toBe(true);
  const url = `/api/instruments/${added.id}`;
  const payload = { ...facts, calibrationDueOn: '2099-01-31', archived: false };
  expect((await put(lena, { url, version: 1, payload })).json()).toMatchObject({
    calibrationOverdue: false,
    version: 2,
  });
  expect((await put(lena, { url, version: 1, payload })).statusCode).toBe(412);
});

it('a titrant keeps every strength it was given, and the last one counts', async () => {
  const strength = { eqPerLitre: 1.002, standardUncertaintyEqPerLitre: 0.001, standardisedOn: '2026-02-02' };
  const bottle = { reagent: 'NaOH', label: 'NaOH 1.0, bottle 3', expiresOn: null, notes: '' };
  const titrant = await post<TitrantLot>(lena, '/api/titrants', { ...bottle, ...strength });
  const url = `/api/titrants/${titrant.id}/standardisations`;
  const { titrant: later, recomputed } = await post<{ titrant: TitrantLot; recomputed: unknown[] }>(
    lena,
    url,
    {
      ...strength,
      eqPerLitre: 0.998,
      replacesId: null,
      reason: '',
    },
  );
  expect(later).toMatchObject({ current: { eqPerLitre: 0.998 }, version: 2 });
  expect(later.standardisations).toHaveLength(2);
  expect(recomputed).toEqual([]);
  const foreign = await lena({
    method: 'POST',
    url,
    payload: { ...strength, replacesId: 999_999, reason: 'wrong' },
  });
  expect(pathsOf(foreign)).toEqual(['replacesId']);
});
