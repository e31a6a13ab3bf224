import type { Chemical, ChemicalLot, PageRef, StockMovement } from '@huelot/contracts';
import { beforeAll, expect, it } from 'vitest';
import { type Ask, testApp } from '../../../../../tests/support/app.ts';
import { post, receive } from '../../../../../tests/support/lab.ts';

const { as } = await testApp();
let lena: Ask;
let omar: Ask;
beforeAll(async () => {
  [lena, omar] = [await as('lab'), await as('operator')];
});

const facts = (code: string, extra: object = {}) => ({
  code,
  name: `Chemical ${code}`,
  formula: 'KOH',
  solute: 'KOH',
  form: 'solid',
  assayMassFraction: 0.9,
  impurityMassFraction: 0.01,
  densityKgPerM3: null,
  hazards: ['corrosive'],
  supplier: '',
  reorderPointKg: 50,
  pricePerKg: '2.40',
  sdsFileId: null,
  notes: '',
  ...extra,
});
const pathsOf = (reply: Awaited<ReturnType<Ask>>) =>
  (reply.json<{ issues?: { path: string }[] }>().issues ?? []).map(({ path }) => path);
const add = (payload: object) => lena({ method: 'POST', url: '/api/chemicals', payload });

it.each([
  [{ assayMassFraction: 0 }, 'assayMassFraction'],
  [{ assayMassFraction: 0.95, impurityMassFraction: 0.1 }, 'impurityMassFraction'],
  [{ pricePerKg: '2.4.0' }, 'pricePerKg'],
  [{ sdsFileId: 999_999 }, 'sdsFileId'],
  [{ hazards: ['explosive'] }, 'hazards.0'],
])('a chemical with %j is refused, naming the field', async (extra, path) => {
  const reply = await add(facts('A1', extra));
  expect(reply.statusCode).toBe(422);
  expect(pathsOf(reply)).toContain(path);
});

it('is kept by the lab, read by everybody, under a code of its own', async () => {
  expect((await add(facts('B1'))).statusCode).toBe(201);
  expect(pathsOf(await add(facts('B1')))).toEqual(['code']);
  expect((await omar({ url: '/api/chemicals?search=B1' })).json()).toMatchObject({
    items: [{ code: 'B1' }],
    next: null,
  });
  expect((await omar({ method: 'POST', url: '/api/chemicals', payload: facts('B2') })).statusCode).toBe(403);
});

it('stock is the sum of its movements; below the reorder point it says so', async () => {
  const { id } = (await add(facts('C1'))).json<Chemical>();
  const lot = await receive(lena, id, { quantityKg: 60 });
  const book = (kind: string, kg: number) =>
    lena({
      method: 'POST',
      url: `/api/chemical-lots/${lot.id}/movements`,
      payload: { kind, kg, reason: 'counted' },
    });
  expect((await book('adjustment', -0.5)).json<ChemicalLot>().balanceKg).toBeCloseTo(59.5, 9);
  expect(pathsOf(await book('adjustment', -59.6))).toEqual(['kg']);
  expect(pathsOf(await book('disposal', 1))).toEqual(['kg']);
  expect((await book('disposal', -20)).statusCode).toBe(201);
  const seen = (await lena({ url: `/api/chemicals/${id}` })).json<{ chemical: Chemical }>();
  expect(seen.chemical).toMatchObject({ balanceKg: 39.5, belowReorderPoint: true, openLots: 1 });
  const low = (await lena({ url: '/api/chemicals?low=yes' })).json<{ items: Chemical[] }>();
  expect(low.items.map(({ code }) => code)).toContain('C1');
  const ledger = (await lena({ url: `/api/chemical-lots/${lot.id}/movements` })).json<{
    items: StockMovement[];
  }>();
  expect(ledger.items.map(({ kind, balanceKg }) => [kind, balanceKg])).toEqual([
    ['disposal', 39.5],
    ['adjustment', 59.5],
    ['receipt', 60],
  ]);
});

it('what has fallen under its reorder point waits on Today for the lab, what is nearest to nothing first', async () => {
  type Today = { sections: { key: string; items: object[] }[] };
  const toOrder = async (ask: Ask) =>
    (await ask({ url: '/api/today' })).json<Today>().sections.find(({ key }) => key === 'toOrder')?.items;
  const low = (await add(facts('T1'))).json<Chemical>();
  await receive(lena, low.id, { quantityKg: 12.5 });
  const none = (await add(facts('T2'))).json<Chemical>();
  const enough = (await add(facts('T3'))).json<Chemical>();
  await receive(lena, enough.id, { quantityKg: 50 });
  await add(facts('T4', { reorderPointKg: null }));
  const items = await toOrder(lena);
  expect(items?.[0]).toMatchObject({ urgent: true });
  const ofTheseFour = (items as { page: PageRef; title: string }[]).filter(({ title }) =>
    title.startsWith('T'),
  );
  expect(ofTheseFour).toEqual([
    {
      page: { kind: 'chemical', id: none.id },
      title: 'T2 Chemical T2',
      detail: '0 kg left, to be ordered below 50 kg',
      when: null,
      colour: null,
      urgent: true,
    },
    {
      page: { kind: 'chemical', id: low.id },
      title: 'T1 Chemical T1',
      detail: '12.5 kg left, to be ordered below 50 kg',
      when: null,
      colour: null,
      urgent: false,
    },
  ]);
  expect(await toOrder(omar)).toBeUndefined();
});

it('a lot is received once under its number, keeps its own assay, and is not usable in quarantine', async () => {
  const chemical = (await add(facts('D1'))).json<Chemical>();
  const received = {
    supplierLot: 'X-1',
    receivedAt: new Date().toISOString(),
    quantityKg: 25,
    assayMassFraction: 0.88,
    densityKgPerM3: null,
    expiresOn: '2020-01-31',
    quarantined: true,
    notes: '',
  };
  const url = `/api/chemicals/${chemical.id}/lots`;
  const lot = await post<ChemicalLot>(lena, url, received);
  expect(lot).toMatchObject({ status: 'quarantined', assayMassFraction: 0.88, expired: true });
  expect(pathsOf(await lena({ method: 'POST', url, payload: received }))).toEqual(['supplierLot']);
  const usable = async () =>
    (await lena({ url: `/api/chemical-lots?chemicalId=${chemical.id}` })).json<{ items: ChemicalLot[] }>()
      .items;
  expect(await usable()).toEqual([]);
  const changed = await lena({
    method: 'PUT',
    url: `/api/chemical-lots/${lot.id}`,
    headers: { 'if-match': '"1"' },
    payload: {
      status: 'open',
      assayMassFraction: 0.885,
      densityKgPerM3: null,
      expiresOn: null,
      notes: '',
      reason: 'assayed',
    },
  });
  expect(changed.json()).toMatchObject({ status: 'open', assayMassFraction: 0.885, version: 2 });
  expect((await usable()).map(({ supplierLot }) => supplierLot)).toEqual(['X-1']);
  const archiving = await lena({
    method: 'PUT',
    url: `/api/chemicals/${chemical.id}`,
    headers: { 'if-match': '"1"' },
    payload: { ...facts('D1'), archived: true },
  });
  expect(pathsOf(archiving)).toEqual(['archived']);
});

it('leaves as CSV with formulas defused', async () => {
  await add(facts('E1', { name: '=danger()' }));
  expect((await lena({ url: '/api/chemicals.csv?search=E1' })).body).toContain(
    "E1,'=danger(),KOH,solid,0.9,0,50,,",
  );
});
