import type { Part, PartFacts, PartItem } from '@huelot/contracts';
import { parse } from 'csv-parse/sync';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp, type Ask, type TestApp } from '../../../../../tests/support/app.ts';
import { addPart, partBasis, partFacts, sendFile } from '../../../../../tests/support/parts.ts';

let huelot: TestApp;
let ask: Ask & { personId: number };
let customerId: number;
let materialId: number;
beforeAll(async () => {
  huelot = await testApp();
  ask = await huelot.as('estimator');
  ({ customerId, materialId } = await partBasis(huelot.db));
});

const add = (extra: Partial<PartFacts> = {}) => addPart(ask, { customerId, ...partFacts(materialId, extra) });
const post = (extra: object) =>
  ask({ method: 'POST', url: '/api/parts', payload: { customerId, ...partFacts(materialId), ...extra } });
const put = (part: Part, payload: object, version = part.version) =>
  ask({ method: 'PUT', url: `/api/parts/${part.id}`, headers: { 'if-match': `"${version}"` }, payload });
const revise = (part: Part, payload: object, version = part.version) =>
  ask({
    method: 'POST',
    url: `/api/parts/${part.id}/revisions`,
    headers: { 'if-match': `"${version}"` },
    payload,
  });
const list = async (query: string) => {
  const answer = await ask({ url: `/api/parts?${query}` });
  expect(answer.statusCode, answer.body).toBe(200);
  return answer.json<{ items: PartItem[]; next: string | null }>();
};
let standards = 0;
/** A draft of a colour standard that rests on a sample. */
async function standardOf(owner: number): Promise<number> {
  const { id } = await huelot.db.prisma.colourStandard.create({
    data: { code: `S-${(standards += 1)}`, customerId: owner },
  });
  await huelot.db.prisma.colourStandardRevision.create({
    data: {
      ...{ standardId: id, revision: 1, name: 'Blue', grade: 'compared', authorId: 1, writerIds: [1] },
      sample: { name: 'plate 3', keptAt: 'drawer 2' },
    },
  });
  return id;
}
const coverage = { maskedMm2: 0, contactMm2: 0, roughnessFactor: 1 };

test('a part is added with everything about it and read back whole', async () => {
  const drawing = await sendFile(ask, 'K-1.pdf', '%PDF-1.7');
  const standardId = await standardOf(customerId);
  const facts = partFacts(materialId, {
    number: 'K-1',
    colourStandardId: standardId,
    specification: 'AMS 2488',
    specificationRevision: 'D',
    significantSurfaces: 'all outside',
    contactMarks: 'inside the bore only',
    maskingNotes: 'plug M6',
    maskingFeatures: 2,
    dimensionAllowance: 'none on threads',
    handling: 'gloves',
    files: [{ fileId: drawing.id, kind: 'drawing', caption: 'as quoted' }],
  });
  const part = await addPart(ask, { customerId, ...facts });
  const { files, materialId: made, colourStandardId, ...plain } = facts;
  expect(part).toMatchObject({
    ...plain,
    agreedColour: { standardId: colourStandardId, status: 'draft', sample: { name: 'plate 3' } },
    customer: { id: customerId, name: 'Kestrel Instruments' },
    material: { id: made, baseMetal: 'titanium' },
    areaMm2: 5000,
    coatedAreaMm2: 5000,
    electricalAreaMm2: 5000,
    areaMethod: 'typed: drawing',
    predecessor: null,
    successor: null,
    version: 1,
  });
  expect(part.files).toEqual([{ kind: files[0]?.kind, caption: 'as quoted', file: drawing }]);
  expect((await ask({ url: `/api/parts/${part.id}` })).json()).toEqual(part);
});

test('a part does not point to the colour that another customer agreed to', async () => {
  const other = await huelot.db.prisma.customer.create({
    data: { number: 'C-00950', name: 'Somebody Else', currency: 'EUR' },
  });
  const colourStandardId = await standardOf(other.id);
  const payload = { customerId, ...partFacts(materialId, { number: 'K-FOREIGN', colourStandardId }) };
  const reply = await ask({ method: 'POST', url: '/api/parts', payload });
  expect(reply.statusCode, reply.body).toBe(422);
  expect(reply.json<{ issues: { path: string }[] }>().issues).toMatchObject([{ path: 'colourStandardId' }]);
});

test('shapes are computed by the server: a drilled plate with a boss, masked and rough', async () => {
  const part = await add({
    number: 'K-2',
    massMethod: 'volume',
    massKg: null,
    geometry: {
      kind: 'shapes',
      features: [
        {
          label: 'plate',
          shape: { kind: 'plate', lengthMm: 100, widthMm: 50, thicknessMm: 5 },
          count: 1,
          subtract: false,
          openings: null,
        },
        {
          label: 'holes',
          shape: { kind: 'bar', diameterMm: 8, lengthMm: 5 },
          count: 6,
          subtract: true,
          openings: null,
        },
        {
          label: 'boss',
          shape: { kind: 'bar', diameterMm: 20, lengthMm: 10 },
          count: 1,
          subtract: false,
          openings: null,
        },
      ],
      joints: [{ label: 'boss on plate', patch: 'disc', diameterMm: 20, count: 1 }],
      maskedMm2: 400,
      contactMm2: 20,
      roughnessFactor: 1.5,
    },
  });
  // Plate with six holes of 8 mm: 11650.7964 mm² (shapes table); the boss adds its wall alone.
  const smooth = 11_650.7964 + Math.PI * 20 * 10;
  expect(part.areaMm2).toBeCloseTo(smooth * 1.5, 3);
  expect(part.coatedAreaMm2).toBeCloseTo((smooth - 420) * 1.5, 3);
  expect(part.volumeMm3).toBeCloseTo(23_492.0355 + Math.PI * 100 * 10, 3);
  expect(part.massKg).toBeCloseTo((part.volumeMm3 ?? 0) * 1e-9 * 4510, 9);
  expect(part.areaMethod).toBe('built from 3 shapes');
});

const shapes = (shape: object, extra: object = {}) => ({
  geometry: {
    kind: 'shapes',
    features: [{ label: '', shape, count: 1, subtract: false, openings: null, ...extra }],
    joints: [],
    ...coverage,
  },
});
test.each([
  [{ customerId: 999_999 }, 'customerId'],
  [{ materialId: 999_999 }, 'materialId'],
  [{ number: '' }, 'number'],
  [{ widthMm: 0 }, 'widthMm'],
  [{ massMethod: 'volume', massKg: null }, 'massMethod'],
  [{ files: [{ fileId: 999_999, kind: 'photo', caption: '' }] }, 'files.0.fileId'],
  [
    {
      files: [
        { fileId: 1, kind: 'photo', caption: '' },
        { fileId: 1, kind: 'photo', caption: '' },
      ],
    },
    'files',
  ],
  [{ colourStandardId: 999_999 }, 'colourStandardId'],
  [{ geometry: { ...partFacts(1).geometry, areaMm2: 0 } }, 'geometry.areaMm2'],
  [{ geometry: { ...partFacts(1).geometry, maskedMm2: 5001 } }, 'geometry.maskedMm2'],
  [{ geometry: { ...partFacts(1).geometry, electricalAreaMm2: 5001 } }, 'geometry.electricalAreaMm2'],
  [{ geometry: { ...partFacts(1).geometry, roughnessFactor: 0.5 } }, 'geometry.roughnessFactor'],
  [shapes({ kind: 'dodecahedron', sideMm: 3 }), 'geometry.features.0.shape.kind'],
  [shapes({ kind: 'bar', diameterMm: 8 }), 'geometry.features.0.shape.lengthMm'],
  [
    shapes({ kind: 'tube', outerDiameterMm: 8, innerDiameterMm: 9, lengthMm: 5 }),
    'geometry.features.0.shape.innerDiameterMm',
  ],
  [
    shapes({ kind: 'plate', lengthMm: 9, widthMm: 9, thicknessMm: 1 }, { subtract: true }),
    'geometry.features.0.subtract',
  ],
  [{ geometry: { kind: 'shapes', features: [], joints: [], ...coverage } }, 'geometry.features'],
  [
    { geometry: { kind: 'mesh', measurementId: 999_999, unit: 'mm', shadowedMm2: 0, ...coverage } },
    'geometry.measurementId',
  ],
])('%j is refused, naming %s, and nothing is kept', async (wrong, path) => {
  const before = await huelot.db.prisma.part.count();
  const answer = await post({ number: 'K-3', ...wrong });
  expect(answer.statusCode, answer.body).toBe(422);
  expect(answer.json<{ issues: { path: string }[] }>().issues.map((issue) => issue.path)).toContain(path);
  expect(await huelot.db.prisma.part.count()).toBe(before);
});

test('a customer has a number in a revision once', async () => {
  await add({ number: 'K-4' });
  expect((await post({ number: 'K-4' })).json()).toMatchObject({ status: 409, code: 'already-exists' });
  expect((await post({ number: 'K-4', revision: 'B' })).statusCode).toBe(201);
});

test('a change names its version, is told in words, and may not take what another has', async () => {
  const part = await add({ number: 'K-5' });
  await add({ number: 'K-6' });
  const facts = partFacts(materialId, { number: 'K-5', description: 'Clamp' });
  const changed = await put(part, { ...facts, geometry: { ...facts.geometry, areaMm2: 5100 } });
  expect(changed.json()).toMatchObject({ description: 'Clamp', areaMm2: 5100, version: 2 });
  expect((await put(part, facts)).json()).toMatchObject({ status: 412, current: { version: 2 } });
  expect((await put(part, { ...facts, number: 'K-6' }, 2)).json()).toMatchObject({ status: 409 });
  const history = await ask({ url: `/api/history/part/${part.id}` });
  const [entry] = history.json<{ items: { changes: { field: string }[] }[] }>().items;
  expect(entry?.changes.map(({ field }) => field)).toEqual(
    expect.arrayContaining(['description', 'areaMm2', 'geometryFigures']),
  );
});

test('a new revision points back, the one before points on and is not changed any more', async () => {
  const first = await add({ number: 'K-7' });
  const facts = partFacts(materialId, { number: 'K-7', revision: 'B' });
  expect((await revise(first, { ...facts, number: 'K-8' })).json()).toMatchObject({
    issues: [{ path: 'number' }],
  });
  expect((await revise(first, { ...facts, revision: 'A' })).json()).toMatchObject({ status: 409 });
  expect((await revise(first, facts, 9)).statusCode).toBe(412);
  const answer = await revise(first, facts);
  expect(answer.statusCode, answer.body).toBe(201);
  const second = answer.json<Part>();
  expect(second).toMatchObject({ revision: 'B', predecessor: { id: first.id, revision: 'A' } });
  const old = (await ask({ url: `/api/parts/${first.id}` })).json<Part>();
  expect(old.successor).toEqual({ id: second.id, revision: 'B' });
  expect((await put(old, partFacts(materialId, { number: 'K-7' }))).json()).toMatchObject({
    code: 'immutable',
  });
  expect((await revise(old, { ...facts, revision: 'C' })).json()).toMatchObject({ code: 'immutable' });
  const renamed = await put(second, { ...facts, number: 'K-70' });
  expect(renamed.json()).toMatchObject({ status: 422, issues: [{ path: 'number' }] });
  expect((await list('search=K-7')).items.map(({ revision }) => revision)).toEqual(['B']);
  expect((await list('search=K-7&revisions=all')).items).toHaveLength(2);
});

test('a part on an open order stays; another leaves the lists and comes back', async () => {
  const part = await add({ number: 'K-10' });
  const act = (verb: string) => ask({ method: 'POST', url: `/api/parts/${part.id}/${verb}` });
  expect((await act('archive')).json<Part>().archivedAt).not.toBeNull();
  expect((await list('search=K-10')).items).toHaveLength(0);
  expect((await list('search=K-10&archived=yes')).items).toHaveLength(1);
  expect((await act('unarchive')).json<Part>().archivedAt).toBeNull();
  const { prisma } = huelot.db;
  const recipe = await prisma.recipe.create({
    data: {
      number: 'R-90001',
      name: 'Blue',
      family: 'interference-colour',
      baseMetals: ['titanium'],
      revisions: { create: { revision: 1, authorId: ask.personId } },
    },
    include: { revisions: true },
  });
  await prisma.order.create({
    data: {
      number: 'O-90001',
      customerId,
      currency: 'EUR',
      createdById: ask.personId,
      lines: {
        create: {
          position: 1,
          partId: part.id,
          recipeRevisionId: recipe.revisions[0]?.id ?? 0,
          quantity: 10,
          totalPrice: 100,
          unitPrice: 10,
          dueDate: new Date('2026-12-01'),
        },
      },
    },
  });
  expect((await act('archive')).json()).toMatchObject({ status: 409, code: 'in-use' });
  const uses = (await ask({ url: `/api/parts/${part.id}/uses` })).json<Record<string, unknown>>();
  expect(uses).toMatchObject({ quotations: [], orders: [{ number: 'O-90001', status: 'open' }], lots: [] });
  const operator = await huelot.as('operator');
  expect((await operator({ url: `/api/parts/${part.id}/uses` })).json()).toEqual({
    quotations: null,
    orders: null,
    lots: [],
  });
});

test('nothing new is made of an archived customer or material', async () => {
  const { prisma } = huelot.db;
  const gone = await prisma.customer.create({
    data: { number: 'C-00901', name: 'Gone', currency: 'EUR', archivedAt: new Date() },
  });
  expect((await post({ customerId: gone.id })).json()).toMatchObject({ issues: [{ path: 'customerId' }] });
  const scrap = await prisma.material.create({
    data: {
      name: 'Scrap',
      baseMetal: 'steel',
      densityKgPerM3: 7850,
      heatCapacityJPerKgK: 490,
      source: 'test',
      evidence: 'M',
      archivedAt: new Date(),
    },
  });
  expect((await post({ materialId: scrap.id })).json()).toMatchObject({ issues: [{ path: 'materialId' }] });
});

describe('the list', () => {
  test('searches number, description and customer, filters, and pages in every order', async () => {
    for (const [number, areaMm2] of [
      ['L-1', 900],
      ['L-2', 100],
      ['L-3', 900],
      ['L-4', 400],
    ] as const) {
      const geometry = { ...partFacts(1).geometry, kind: 'typed', areaMm2 } as PartFacts['geometry'];
      await add({ number, geometry, description: 'Lever' });
    }
    expect((await list('search=lever')).items).toHaveLength(4);
    expect((await list('search=kestrel&limit=200')).items.length).toBeGreaterThan(4);
    expect((await list(`customerId=${customerId}&search=L-2`)).items).toHaveLength(1);
    expect((await list(`materialId=${materialId + 900}`)).items).toHaveLength(0);
    for (const sort of [
      'number',
      '-number',
      'customer',
      '-customer',
      'area',
      '-area',
      'createdAt',
      '-createdAt',
    ]) {
      const whole = (await list(`search=lever&sort=${sort}`)).items;
      const paged: PartItem[] = [];
      for (let after = ''; ;) {
        const { items, next } = await list(`search=lever&sort=${sort}&limit=1&after=${after}`);
        paged.push(...items);
        if (next === null) break;
        after = next;
      }
      expect(paged, sort).toEqual(whole);
      expect(whole).toHaveLength(4);
    }
    const areas = (await list('search=lever&sort=area')).items.map(({ areaMm2 }) => areaMm2);
    expect(areas).toEqual([100, 400, 900, 900]);
  });

  test('leaves as CSV that no spreadsheet executes, with units in its heads', async () => {
    await add({ number: '=1+1', description: '@SUM(A1)' });
    const answer = await ask({ url: '/api/parts.csv?search=%3D1%2B1' });
    const rows = parse<Record<string, string>>(answer.body, { columns: true, bom: true });
    expect(rows).toMatchObject([
      { number: "'=1+1", description: "'@SUM(A1)", areaMm2: '5000', revision: 'A' },
    ]);
  });
});

test('everyone signed in reads parts; who may not write them is refused', async () => {
  const part = await add({ number: 'K-20' });
  const lab = await huelot.as('lab');
  expect((await lab({ url: `/api/parts/${part.id}` })).statusCode).toBe(200);
  expect((await lab({ method: 'POST', url: '/api/parts', payload: {} })).statusCode).toBe(403);
  expect((await ask({ url: '/api/parts/999999' })).statusCode).toBe(404);
  expect((await ask({ url: '/api/parts/999999/uses' })).statusCode).toBe(404);
});
