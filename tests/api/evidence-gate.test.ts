import type {
  CouponUses,
  LotEvidence,
  LotTrace,
  Quotation,
  RecipeEvidence,
  Traveler,
} from '@huelot/contracts';
import { expect, test } from 'vitest';
import { givePin } from '../support/lab.ts';
import { good, mainLine, ok, post, signOff } from '../support/main-line.ts';
import { readPdf } from '../support/pdf.ts';

const { db, as, shop, estimator, planner, operator, quality, draft, sentQuotation, acceptedOrder, opened } =
  await mainLine();
const pin = '2468';
await givePin(db, [quality.personId], pin);
const byQuality = { reason: 'first article on Friday', by: { personId: quality.personId, pin } };

const pdfText = async (file: Uint8Array) => (await readPdf(file)).map(({ text }) => text).join(' ');

const withoutId = <T extends { id: number }>({ id: _, ...rest }: T) => rest;
/** The hammer: a part of an alloy that no coupon stands behind. */
const hammerSteel = await db.prisma.material.create({
  data: {
    ...{
      name: 'Titanium hammer grade',
      baseMetal: 'titanium',
      densityKgPerM3: 4510,
      heatCapacityJPerKgK: 524,
    },
    ...{ source: 'test', evidence: 'M' },
  },
});
const proved = await db.prisma.part.findUniqueOrThrow({ where: { id: shop.partId } });
const hammer = await db.prisma.part.create({
  data: {
    ...withoutId(proved),
    geometry: proved.geometry as object,
    number: 'HAMMER-1',
    materialId: hammerSteel.id,
  },
});

const quoted = async (partId: number) => {
  const facts = draft([24, 48]);
  const lines = facts.lines.map((line) => ({ ...line, partId }));
  return ok<Quotation>(post(estimator, '/quotations', { customerId: shop.customerId, ...facts, lines }), 201);
};
const send = ({ id, version }: Quotation, payload: object = {}, ask = estimator) =>
  post(ask, `/quotations/${id}/send`, payload, { 'if-match': `"${version}"` });
const refusal = async (reply: ReturnType<typeof post>) => {
  const { statusCode, body } = await reply;
  return {
    statusCode,
    ...(JSON.parse(body) as { code: string; detail: string; issues?: { path: string }[] }),
  };
};

async function orderedHammer() {
  const quotation = await ok<Quotation>(send(await quoted(hammer.id), { unproved: byQuality }));
  const [line] = quotation.shown.lines;
  const order = await ok<{ lines: { id: number; version: number }[] }>(
    post(planner, `/quotations/${quotation.id}/accept`, {
      customerOrderNumber: 'PO 9',
      dueDate: '2099-01-15',
      lines: [{ lineId: line?.id, breakId: line?.breaks[0]?.id }],
    }),
    201,
  );
  const [orderLine] = order.lines;
  if (orderLine === undefined) throw new Error('the order has a line');
  await ok(
    post(
      planner,
      `/order-lines/${orderLine.id}/receipt`,
      { count: 24, reason: '' },
      { 'if-match': `"${orderLine.version}"` },
    ),
  );
  return orderLine.id;
}
const release = (lineId: number, extra: object = {}) =>
  post(planner, `/order-lines/${lineId}/release`, {
    rackId: shop.rackId,
    supplyId: shop.supplyId,
    tanks: shop.tanks,
    loads: [24],
    dueDate: '2099-01-15',
    priority: 0,
    ...extra,
  });
const releasedHammer = async () => {
  const lineId = await orderedHammer();
  const { lots } = await ok<{ lots: { id: number; number: string }[] }>(
    release(lineId, { unproved: byQuality }),
    201,
  );
  const [lot] = lots;
  if (lot === undefined) throw new Error('one lot was released');
  return lot;
};
const sign = (traveler: Traveler, position: number) =>
  post(operator, `/steps/${traveler.steps[position - 1]?.id}/sign-off`, signOff(24, good[position] ?? []));

test('the unproved hammer was quoted as if its colour were known', async () => {
  const quotation = await quoted(hammer.id);
  expect(quotation.shown.lines[0]?.evidence).toMatchObject({ state: 'nearest', allowed: null });
  const refused = await refusal(send(quotation));
  expect(refused).toMatchObject({ statusCode: 409, code: 'not-proved', issues: [{ path: 'unproved' }] });
  expect(refused.detail).toContain('(3 coupons); this part is Titanium hammer grade: none');
  expect(await db.prisma.quotationRevision.count({ where: { id: quotation.shown.id, status: 'sent' } })).toBe(
    0,
  );
});

test('an estimator let it out by their own word, or by a wrong PIN', async () => {
  const quotation = await quoted(hammer.id);
  expect(await refusal(send(quotation, { unproved: { reason: 'it will do', by: null } }))).toMatchObject({
    statusCode: 403,
    code: 'not-allowed',
  });
  const wrong = { reason: 'it will do', by: { personId: quality.personId, pin: '0000' } };
  expect(await refusal(send(quotation, { unproved: wrong }))).toMatchObject({
    code: 'wrong-credentials',
    issues: [{ path: 'unproved.by.pin' }],
  });
  expect(await refusal(send(quotation, { unproved: { ...byQuality, reason: ' ' } }))).toMatchObject({
    statusCode: 422,
  });
  expect(await db.prisma.evidenceException.count()).toBe(0);
});

test('the paper of an unproved quotation promised a colour', async () => {
  const sent = await ok<Quotation>(send(await quoted(hammer.id), { unproved: byQuality }));
  expect(sent.shown.lines[0]?.evidence).toMatchObject({
    state: 'nearest',
    allowed: { reason: 'first article on Friday' },
  });
  const paper = await estimator({ url: `/api/quotations/${sent.id}/revisions/1/pdf` });
  const text = await pdfText(paper.rawPayload);
  expect(text).toContain('Colour subject to a first article');
  expect(text).not.toContain('first article on Friday');
  const own = await sentQuotation();
  const proofed = await estimator({ url: `/api/quotations/${own.id}/revisions/1/pdf` });
  expect(await pdfText(proofed.rawPayload)).not.toContain('first article');
});

test('a proved quotation took a word that nobody needed', async () => {
  expect(await refusal(send(await quoted(shop.partId), { unproved: byQuality }))).toMatchObject({
    statusCode: 422,
    issues: [{ path: 'unproved' }],
  });
});

test('the unproved hammer was released to the floor, and signed at the tank', async () => {
  const lineId = await orderedHammer();
  expect(await refusal(release(lineId))).toMatchObject({ statusCode: 409, code: 'not-proved' });
  expect(await db.prisma.lot.count({ where: { orderLineId: lineId } })).toBe(0);
  const plan = await ok<{ evidence: { state: string } }>(
    planner({ url: `/api/order-lines/${lineId}/load-plan` }),
  );
  expect(plan.evidence.state).toBe('nearest');

  const lot = await releasedHammer();
  let traveler = await opened(lot.id);
  for (const position of [1, 2]) traveler = await ok<Traveler>(sign(traveler, position), 201);
  expect(traveler.steps[2]?.evidence).toMatchObject({ verdict: { state: 'nearest' }, allowed: null });
  expect(await refusal(sign(traveler, 3))).toMatchObject({ statusCode: 409, code: 'not-proved' });

  const stepId = traveler.steps[2]?.id ?? 0;
  const allow = (payload: object, ask = operator) =>
    post(ask, `/steps/${stepId}/evidence-exceptions`, payload);
  expect(await refusal(allow({ reason: 'trust me', by: null }))).toMatchObject({ code: 'not-allowed' });
  await ok(allow(byQuality), 201);
  expect(await refusal(allow(byQuality))).toMatchObject({ code: 'conflict' });
  await ok<Traveler>(sign(traveler, 3), 201);

  const { exceptions } = await ok<LotEvidence>(operator({ url: `/api/lots/${lot.id}/evidence` }));
  expect(exceptions.map(({ place }) => place)).toEqual(['quotation', 'release', 'signature']);
  const trace = await ok<LotTrace>(quality({ url: `/api/lots/${lot.id}/trace` }));
  const told = trace.events
    .filter(({ kind }) => kind === 'evidence')
    .map(({ title, detail }) => `${title}: ${detail}`);
  expect(told).toHaveLength(3);
  expect(told.join()).toContain('first article on Friday');
  await expect(db.prisma.evidenceException.deleteMany()).rejects.toThrow();
});

test('quality took a step that was signed offline without a word of its evidence', async () => {
  const lot = await releasedHammer();
  let traveler = await opened(lot.id);
  for (const position of [1, 2]) traveler = await ok<Traveler>(sign(traveler, position), 201);
  const kept = signOff(24, good[3] ?? [], { personId: operator.personId });
  const { parked } = await ok<{ parked: { id: number; refusal: string } }>(
    post(operator, `/steps/${traveler.steps[2]?.id}/parked-sign-offs`, kept),
    201,
  );
  expect(parked.refusal).toContain('this part is Titanium hammer grade: none');
  await ok(
    post(quality, `/parked-sign-offs/${parked.id}/settle`, { decision: 'accepted', reason: 'coloured well' }),
  );
  const { exceptions } = await ok<LotEvidence>(quality({ url: `/api/lots/${lot.id}/evidence` }));
  expect(exceptions.at(-1)).toMatchObject({ place: 'signature', reason: 'coloured well' });
});

test('the gate went on asking after a first article passed', async () => {
  const lot = await releasedHammer();
  const meter = (code: string, kind = 'colour-meter', due = '2099-01-31') =>
    db.prisma.instrument.create({
      data: { code, name: `Meter ${code}`, kind, calibrationDueOn: new Date(due) },
    });
  const overdue = await meter('CM-9', 'colour-meter', '2020-01-31');
  const scale = await meter('BA-9', 'balance');
  const mark = (extra: object = {}, ask = quality) =>
    post(ask, `/lots/${lot.id}/first-article`, {
      ...{ kind: 'first-article', grade: 'measured', comparerIds: [], instrumentId: overdue.id },
      ...{ lab: { L: 40, a: 5, b: -30 }, note: '', expiresOn: null, ...extra },
    });
  expect(await refusal(mark())).toMatchObject({ code: 'conflict' });
  let traveler = await opened(lot.id);
  for (const { position, id } of traveler.steps) {
    if (position === 3) await ok(post(operator, `/steps/${id}/evidence-exceptions`, byQuality), 201);
    traveler = await ok<Traveler>(sign(traveler, position), 201);
  }
  const check = { acceptedCount: 24, rejectedCount: 0, reworkCount: 0, reason: '', notes: '' };
  await ok(post(quality, `/lots/${lot.id}/final-check`, check), 201);
  expect(await refusal(mark({ lab: null }))).toMatchObject({ issues: [{ path: 'lab' }] });
  expect(await refusal(mark({}, operator))).toMatchObject({ code: 'not-allowed' });
  expect(
    await refusal(
      mark({ grade: 'compared', lab: null, instrumentId: null, comparerIds: [quality.personId] }),
    ),
  ).toMatchObject({
    issues: [{ path: 'comparerIds' }],
  });
  for (const instrumentId of [null, scale.id, 999_999])
    expect(await refusal(mark({ instrumentId }))).toMatchObject({ issues: [{ path: 'instrumentId' }] });
  const marked = await ok<LotEvidence>(mark(), 201);
  expect(marked).toMatchObject({ verdict: { state: 'proved' }, proves: { kind: 'first-article' } });
  expect(await refusal(mark())).toMatchObject({ code: 'already-exists' });
  const { provedOn, items } = await ok<RecipeEvidence>(
    operator({ url: `/api/recipe-revisions/${shop.recipeRevisionId}/evidence` }),
  );
  expect(provedOn).toMatchObject([{ coupons: 3 }, { alloy: 'Titanium hammer grade', pieces: 24 }]);
  expect(items.at(-1)).toMatchObject({ instrument: 'CM-9 Meter CM-9', instrumentOverdue: true });
  await ok(send(await quoted(hammer.id)));
  await acceptedOrder();
});

test('a lot under way was signed on evidence that was withdrawn since', async () => {
  const lab = await as('lab');
  const { items } = await ok<RecipeEvidence>(
    lab({ url: `/api/recipe-revisions/${shop.recipeRevisionId}/evidence` }),
  );
  const first = items.find(({ lot }) => lot !== null);
  await ok(post(lab, `/recipe-evidence/${first?.id}/withdraw`, { reason: 'the reading was of another lot' }));
  expect(await refusal(send(await quoted(hammer.id)))).toMatchObject({ code: 'not-proved' });
});

test('evidence ran out, and nobody whose offers and lots rest on it was told', async () => {
  const quotation = await quoted(shop.partId);
  const soon = new Date(Date.now() + 10 * 86_400_000);
  await db.prisma.$executeRaw`alter table "recipe_evidence" disable trigger user`;
  await db.prisma.recipeEvidence.updateMany({ where: { kind: 'coupons' }, data: { expiresOn: soon } });
  await db.prisma.$executeRaw`alter table "recipe_evidence" enable trigger user`;
  for (const ask of [estimator, planner, quality]) {
    const { sections } = await ok<{ sections: { key: string; items: { detail: string }[] }[] }>(
      ask({ url: '/api/today' }),
    );
    const [row] = sections.find(({ key }) => key === 'evidence')?.items ?? [];
    expect(row?.detail).toContain(quotation.number);
  }
});

test('a series was faulty, and nobody could say which shipped lots rest on it', async () => {
  const { seriesId } = await db.prisma.recipeEvidence.findFirstOrThrow({ where: { kind: 'coupons' } });
  const uses = await ok<CouponUses>(operator({ url: `/api/coupon-series/${seriesId}/uses` }));
  expect(uses.revisions).toMatchObject([{ id: shop.recipeRevisionId, isWithdrawn: false }]);
  // The lots of the hammer are of another alloy: they do not rest on these coupons.
  const own = await db.prisma.lot.count({ where: { partId: shop.partId } });
  expect(uses.lotCount).toBe(own);
});
