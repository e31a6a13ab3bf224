import type {
  ColourStandard,
  Lot,
  LotColour,
  LotTrace,
  NewColourReading,
  Part,
  Quotation,
  Traveler,
} from '@huelot/contracts';
import { describe, expect, it, test } from 'vitest';
import { good, mainLine, ok, post, signOff } from '../support/main-line.ts';
import { partFacts } from '../support/parts.ts';
import { readPdf } from '../support/pdf.ts';

const line = await mainLine();
const { db, shop, estimator, operator, quality, draft, send, releasedLots, signAll, opened } = line;
const conditions = { geometry: 'd8-included', illuminant: 'D65', observerDeg: 2 } as const;
const tolerance = { from: 'target', deltaE: 3, kL: 1, kC: 1, kH: 1 } as const;

async function standard(code: string, target: { L: number; a: number; b: number }) {
  const started = await ok<ColourStandard>(
    post(estimator, '/colour-standards', {
      ...{ code, customerId: null, name: code, target, light: null, dark: null, conditions, tolerance },
      ...{ instrument: 'SP-1', sample: null, grade: 'measured', agreedBy: '', agreedOn: null },
      ...{ expiresOn: null, photoId: null, notes: '', changeNote: '' },
    }),
    201,
  );
  return approved(started);
}
const approved = ({ revisionId, version }: ColourStandard) =>
  ok<ColourStandard>(
    post(quality, `/colour-standard-revisions/${revisionId}/approve`, {}, { 'if-match': `"${version}"` }),
  );

const blue = { L: 40, a: 8, b: -30 };
const gold = { L: 62, a: 6, b: 40 };
/** What the edge is revised to, half way through. */
const warmer = { L: 55, a: 12, b: 30 };
const back = await standard('BACK-1', blue);
const edge = await standard('EDGE-1', gold);
const used = await db.prisma.part.findUniqueOrThrow({ where: { id: shop.partId } });
const hard = await db.prisma.material.create({
  data: {
    ...{ name: 'Titanium grade 2', condition: 'case hardened', baseMetal: 'titanium', source: 'test' },
    ...{ densityKgPerM3: 4510, heatCapacityJPerKgK: 524, evidence: 'M' },
  },
});
const steel = await db.prisma.material.create({
  data: {
    ...{ name: 'Steel 1075', condition: 'hardened', baseMetal: 'steel', source: 'test' },
    ...{ densityKgPerM3: 7850, heatCapacityJPerKgK: 470, evidence: 'M' },
  },
});

const blade = (zones: object[], extra: object = {}) => ({
  ...partFacts(used.materialId, { number: 'BLADE-1', colourStandardId: back.standardId }),
  ...{ customerId: shop.customerId, zones, ...extra },
});
const edgeZone = { name: 'Edge', materialId: null, colourStandardId: edge.standardId };
const added = (zones: object[], extra: object = {}) => post(estimator, '/parts', blade(zones, extra));
const paths = async (reply: ReturnType<typeof post>) => {
  const { statusCode, body } = await reply;
  const { issues } = JSON.parse(body) as { issues?: { path: string }[] };
  return [statusCode, ...(issues ?? []).map(({ path }) => path)];
};

describe('zones of a part', () => {
  it.each([
    ['named twice', [edgeZone, { ...edgeZone, name: ' edge ' }], 'zones.1.name'],
    ['like the rest', [{ ...edgeZone, colourStandardId: null }], 'zones.0.colourStandardId'],
    ['of another metal', [{ ...edgeZone, materialId: steel.id }], 'zones.0.materialId'],
    ['of a material that is not there', [{ ...edgeZone, materialId: 99_999 }], 'zones.0.materialId'],
    [
      'with a standard that is not there',
      [{ ...edgeZone, colourStandardId: 99_999 }],
      'zones.0.colourStandardId',
    ],
    ['without a name', [{ ...edgeZone, name: ' ' }], 'zones.0.name'],
  ])('are refused by their field where one is %s', async (_, zones, field) => {
    const [status, ...found] = await paths(added(zones));
    expect([status, found]).toEqual([422, [field]]);
  });

  it('are shown with their standard, and change as long as the part was not offered', async () => {
    const { id, version } = await ok<Part>(added([edgeZone], { number: 'BLADE-2' }), 201);
    const put = (zones: object[], ifMatch: number) =>
      estimator({
        method: 'PUT',
        url: `/api/parts/${id}`,
        payload: { ...partFacts(used.materialId, { number: 'BLADE-2' }), zones },
        headers: { 'if-match': `"${ifMatch}"` },
      });
    const part = await ok<Part>(put([{ ...edgeZone, name: 'Tip' }], version));
    expect(part.zones).toMatchObject([{ name: 'Tip', material: null, agreedColour: { code: 'EDGE-1' } }]);
    expect((await ok<Part>(put([], part.version))).zones).toEqual([]);
  });
});

/** The part of the shop becomes a blade with an edge, before anybody offers it. */
await db.prisma.part.update({ where: { id: shop.partId }, data: { colourStandardId: back.standardId } });
await db.prisma.partZone.create({
  data: { partId: shop.partId, position: 0, name: 'Edge', colourStandardId: edge.standardId },
});

const reading = (zone: string, lab: { L: number; a: number; b: number }): NewColourReading => ({
  ...{ zone, place: '', spot: null, grade: 'measured', lab, spectrum: null, conditions },
  ...{ instrumentId: shop.colourMeterId, instrument: '' },
  ...{ expandedUncertainty: 0.4, outcome: null, confirmed: false, note: '' },
});
const read = (lotId: number, ...readings: NewColourReading[]) =>
  post(operator, `/lots/${lotId}/colour-readings`, { readings, fileName: '', second: null });
const accept = (lotId: number) =>
  post(quality, `/lots/${lotId}/final-check`, {
    ...{ acceptedCount: 24, rejectedCount: 0, reworkCount: 0, reason: '', notes: '' },
  });
const finished = async () => {
  const [lot] = await releasedLots();
  await signAll(lot?.id ?? 0);
  return lot?.id ?? 0;
};

test('a gold edge was judged against the blue of the back', async () => {
  const lotId = await finished();
  const wrong = await read(lotId, reading('Tip', gold));
  expect([wrong.statusCode, wrong.body]).toEqual([422, expect.stringContaining('readings.0.zone') as string]);
  const { readings, missing } = await ok<LotColour>(read(lotId, reading(' edge', gold)), 201);
  expect(readings[0]).toMatchObject({ verdict: 'pass', standard: { code: 'EDGE-1' } });
  expect(missing).toContain('BACK-1');
  // The edge alone says nothing of the rest of the piece.
  expect((await accept(lotId)).statusCode).toBe(409);
  const whole = await ok<LotColour>(read(lotId, reading('', blue)), 201);
  expect([whole.readings[0]?.standard?.code, whole.missing]).toEqual(['BACK-1', '']);
  await ok(accept(lotId), 201);
  const { colour } = await ok<LotTrace>(quality({ url: `/api/lots/${lotId}/trace` }));
  expect(colour.zones).toMatchObject([{ name: 'Edge', agreed: { code: 'EDGE-1', newerRevision: null } }]);
});

test('an edge beyond its limit holds the lot, and is named', async () => {
  const lotId = await finished();
  await ok(read(lotId, reading('', blue), reading('Edge', { ...gold, b: 31 })), 201);
  const { held, holds } = await ok<Lot>(quality({ url: `/api/lots/${lotId}` }));
  expect([held, holds[0]?.reason]).toEqual([true, expect.stringMatching(/Edge: dE \d+\.\d from EDGE-1/)]);
});

test('zones of a part that was offered could be changed under the papers that show them', async () => {
  const change = db.prisma.partZone.updateMany({ where: { partId: shop.partId }, data: { name: 'Point' } });
  await expect(change).rejects.toThrow(/make a new revision/);
  const { version } = await ok<Part>(estimator({ url: `/api/parts/${shop.partId}` }));
  const facts = { ...partFacts(used.materialId), number: used.number, revision: used.revision, zones: [] };
  const reply = await estimator({
    method: 'PUT',
    url: `/api/parts/${shop.partId}`,
    payload: facts,
    headers: { 'if-match': `"${version}"` },
  });
  expect(reply.json()).toMatchObject({ code: 'immutable' });
});

test('quotation and traveler name the zones with what each is held to', async () => {
  const facts = { customerId: shop.customerId, ...draft([24]) };
  const { id } = await send(await ok<Quotation>(post(estimator, '/quotations', facts), 201));
  const pdf = await estimator({ url: `/api/quotations/${id}/revisions/1/pdf` });
  const text = (await readPdf(pdf.rawPayload)).map((page) => page.text).join(' ');
  expect(text).toContain('Zone: Edge');
  expect(text).toContain('Edge, Target: L* 62');
  const [lot] = await releasedLots();
  const traveler = await opened(lot?.id ?? 0);
  expect(traveler.head.zones).toMatchObject([{ name: 'Edge', agreedColour: { code: 'EDGE-1' } }]);
});

test('a standard that was revised after the release judged the lots released before', async () => {
  const lotId = await finished();
  const next = await ok<ColourStandard>(
    post(estimator, `/colour-standards/${edge.standardId}/revisions`, { changeNote: 'warmer' }),
    201,
  );
  const facts = { ...next, target: warmer };
  const keys = ['code', 'name', 'target', 'light', 'dark', 'conditions', 'instrument', 'tolerance', 'sample'];
  const more = ['grade', 'agreedBy', 'agreedOn', 'expiresOn', 'notes', 'changeNote'];
  const body = Object.fromEntries(Object.entries(facts).filter(([key]) => [...keys, ...more].includes(key)));
  const changed = await ok<ColourStandard>(
    estimator({
      method: 'PUT',
      url: `/api/colour-standard-revisions/${next.revisionId}`,
      payload: { ...body, customerId: null, photoId: null },
      headers: { 'if-match': `"${next.version}"` },
    }),
  );
  await approved(changed);
  const { zones, readings } = await ok<LotColour>(read(lotId, reading('Edge', gold)), 201);
  expect(readings[0]).toMatchObject({ verdict: 'pass', standard: { code: 'EDGE-1', revision: 1 } });
  expect(zones[0]?.agreed).toMatchObject({ revision: 1, newerRevision: 2 });
});

describe('a part that asks for its colour at the tank', () => {
  const colourAt = (traveler: Traveler) => traveler.steps.findIndex(({ kind }) => kind === 'colour');
  async function atTheTank(colourReadAt: 'tank' | 'both') {
    await db.prisma.$executeRawUnsafe('alter table "part" disable trigger part_frozen');
    await db.prisma.part.update({ where: { id: shop.partId }, data: { colourReadAt } });
    await db.prisma.$executeRawUnsafe('alter table "part" enable trigger part_frozen');
    const [lot] = await releasedLots();
    const lotId = lot?.id ?? 0;
    let traveler = await opened(lotId);
    const sign = (step: Traveler['steps'][number], extra: object = {}, verb = 'sign-off') =>
      post(operator, `/steps/${step.id}/${verb}`, signOff(24, good[step.position] ?? [], extra));
    for (const step of traveler.steps.slice(0, colourAt(traveler) + 1))
      traveler = await ok<Traveler>(sign(step), 201);
    return { lotId, sign, rest: traveler.steps.slice(colourAt(traveler) + 1) };
  }

  it('went on to the next step unread', async () => {
    const { lotId, sign, rest } = await atTheTank('tank');
    const [next] = rest;
    if (next === undefined) throw new Error('a step follows the colour step');
    const refused = await sign(next);
    expect([refused.statusCode, refused.body]).toEqual([
      409,
      expect.stringContaining('asks for its colour at the tank: read BACK-1') as string,
    ]);
    await ok(read(lotId, reading('', blue)), 201);
    expect((await sign(next)).body).toContain('in the zone Edge');
    await ok(read(lotId, reading('Edge', warmer)), 201);
    for (const step of rest) await ok(sign(step), 201);
    await ok(accept(lotId), 201);
  });

  it('is read once more at the final check where it asks for both', async () => {
    const { lotId, sign, rest } = await atTheTank('both');
    await ok(read(lotId, reading('', blue), reading('Edge', warmer)), 201);
    for (const step of rest) await ok(sign(step), 201);
    const refused = await accept(lotId);
    expect([refused.statusCode, refused.body]).toEqual([
      409,
      expect.stringContaining('no reading after its last step') as string,
    ]);
    await ok(read(lotId, reading('', blue), reading('Edge', warmer)), 201);
    await ok(accept(lotId), 201);
  });
});

test('a condition that no coupon stands behind went unseen because it was only at the edge', async () => {
  const part = await ok<Part>(
    added([{ name: 'Edge', materialId: hard.id, colourStandardId: null }], { number: 'BLADE-3' }),
    201,
  );
  const facts = draft([24]);
  const lines = facts.lines.map((line) => ({ ...line, partId: part.id }));
  const quotation = await ok<Quotation>(
    post(estimator, '/quotations', { customerId: shop.customerId, ...facts, lines }),
    201,
  );
  const refused = await post(
    estimator,
    `/quotations/${quotation.id}/send`,
    {},
    {
      'if-match': `"${quotation.version}"`,
    },
  );
  expect(refused.json()).toMatchObject({ code: 'not-proved' });
  expect(refused.body).toMatch(/Edge: proved on .*this part is Titanium grade 2, case hardened: none/);
});
