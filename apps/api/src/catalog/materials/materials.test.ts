import { BaseMetal, MaterialFacts, type Material } from '@huelot/contracts';
import { parse } from 'csv-parse/sync';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp, type Ask, type TestApp } from '../../../../../tests/support/app.ts';
import { startingLibrary } from './starting-library.ts';

let huelot: TestApp;
let ask: Ask;
beforeAll(async () => {
  huelot = await testApp();
  ask = await huelot.as('quality');
});

const facts = {
  name: 'Titanium grade 7',
  designation: 'UNS R52400',
  condition: 'annealed',
  baseMetal: 'titanium',
  densityKgPerM3: 4510,
  heatCapacityJPerKgK: 520,
  source: 'mill certificate',
  evidence: 'shop',
  notes: '',
};
const add = (extra: object = {}) =>
  ask({ method: 'POST', url: '/api/materials', payload: { ...facts, ...extra } });
const list = async (query: string) =>
  (await ask({ url: `/api/materials?${query}` })).json<{ items: Material[]; next: string | null }>();

describe('the starting library', () => {
  test('holds every metal the shop colours, each with a source and its standing', () => {
    const metals = new Set(startingLibrary.map(({ baseMetal }) => baseMetal));
    for (const metal of ['titanium', 'niobium', 'tantalum', 'zirconium', 'steel', 'aluminium']) {
      expect(metals).toContain(metal);
    }
    for (const material of startingLibrary) {
      expect(() => MaterialFacts.parse(material), material.name).not.toThrow();
      expect(material.evidence === 'M', material.name).toBe(material.source.includes('(M)'));
    }
  });

  test('is added once, and leaves what the shop archived alone', async () => {
    const load = async (filter: Pick<Parameters<Ask>[0], 'changesNothing'> = {}) =>
      (await ask({ method: 'POST', url: '/api/materials/starting-library', ...filter })).json<object>();
    expect(await load()).toEqual({ added: startingLibrary.length });
    const [first] = (await list('limit=1')).items;
    await ask({ method: 'POST', url: `/api/materials/${first?.id}/archive` });
    expect(await load({ changesNothing: true })).toEqual({ added: 0 });
    expect((await list('archived=yes')).items.map(({ id }) => id)).toEqual([first?.id]);
  });
});

test('a material is added, changed with its version, and keeps its history', async () => {
  const added = (await add()).json<Material>();
  expect(added).toMatchObject({ ...facts, partCount: 0, archivedAt: null, version: 1 });
  const change = (version: number, densityKgPerM3: number) =>
    ask({
      method: 'PUT',
      url: `/api/materials/${added.id}`,
      headers: { 'if-match': `"${version}"` },
      payload: { ...facts, densityKgPerM3 },
    });
  expect((await change(1, 4520)).json()).toMatchObject({ densityKgPerM3: 4520, version: 2 });
  expect((await change(1, 4530)).json()).toMatchObject({ status: 412, current: { densityKgPerM3: 4520 } });
  const history = await ask({ url: `/api/history/material/${added.id}` });
  expect(history.json()).toMatchObject({
    items: [
      { action: 'changed', changes: [{ field: 'densityKgPerM3', old: 4510, new: 4520 }] },
      { action: 'added', recordNumber: 'Titanium grade 7, annealed' },
    ],
  });
});

test('a name and condition are there once', async () => {
  await add({ name: 'Twice' });
  expect((await add({ name: 'Twice' })).json()).toMatchObject({ status: 409, code: 'already-exists' });
  expect((await add({ name: 'Twice', condition: 'as welded' })).statusCode).toBe(201);
});

test.each([
  [{ baseMetal: 'unobtainium' }, 'baseMetal'],
  [{ densityKgPerM3: 4.51 }, 'densityKgPerM3'],
  [{ densityKgPerM3: 1e9 }, 'densityKgPerM3'],
  [{ heatCapacityJPerKgK: 0 }, 'heatCapacityJPerKgK'],
  [{ source: '' }, 'source'],
  [{ evidence: 'surely' }, 'evidence'],
])('%j is refused, naming %s', async (wrong, path) => {
  const answer = await add(wrong);
  expect(answer.json()).toMatchObject({ status: 422, issues: [{ path }] });
});

test('the list filters by metal, searches, sorts and pages, and leaves as CSV', async () => {
  for (const baseMetal of BaseMetal.options) {
    expect((await list(`baseMetal=${baseMetal}`)).items.every((item) => item.baseMetal === baseMetal)).toBe(
      true,
    );
  }
  expect((await list('search=R56400')).items.map(({ name }) => name)).toEqual([
    'Titanium grade 5, Ti-6Al-4V',
  ]);
  const [heaviest] = (await list('sort=-density&limit=1')).items;
  expect(heaviest?.name).toBe('Tantalum');
  const all = (await list('sort=density&limit=200')).items.map(({ id }) => id);
  const paged: number[] = [];
  for (let after = ''; ;) {
    const { items, next } = await list(`sort=density&limit=3&after=${after}`);
    paged.push(...items.map(({ id }) => id));
    if (next === null) break;
    after = next;
  }
  expect(paged).toEqual(all);
  await add({ name: '+1', source: '@home' });
  const rows = parse<Record<string, string>>((await ask({ url: '/api/materials.csv?search=%2B1' })).body, {
    columns: true,
    bom: true,
  });
  expect(rows).toMatchObject([{ name: "'+1", source: "'@home", densityKgPerM3: '4510' }]);
});

test('who only reads may not write', async () => {
  const operator = await huelot.as('operator');
  expect((await operator({ url: '/api/materials' })).statusCode).toBe(200);
  expect((await operator({ method: 'POST', url: '/api/materials', payload: facts })).statusCode).toBe(403);
  expect((await operator({ url: '/api/materials/999999' })).statusCode).toBe(404);
});
