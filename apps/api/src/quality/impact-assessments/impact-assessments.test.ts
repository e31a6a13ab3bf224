import type { ImpactAssessment, Lot, NonconformanceSheet } from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import { mainLine, ok, post } from '../../../../../tests/support/main-line.ts';
import { readPdf } from '../../../../../tests/support/pdf.ts';

const { db, as, shop, planner, operator, quality, releasedLots, signAll } = await mainLine();
const lab = await as('lab');
const due = '2099-02-01';
const path = '/impact-assessments';
const facts = (extra: object = {}) => ({
  ...{ about: `rack-${shop.rackId}`, from: null, to: null, cause: null, reason: 'hooks were bent' },
  ...{ ownerId: quality.personId, dueOn: due, ...extra },
});
const open = (extra: object = {}, person = quality) => post(person, path, facts(extra));
const opened = (extra: object = {}) => ok<ImpactAssessment>(open(extra), 201);
const now = (id: number) => ok<ImpactAssessment>(quality({ url: `/api${path}/${id}` }));
const judge = (id: number, lotIds: number[], verdict: { affected: boolean; text?: string }) =>
  post(quality, `${path}/${id}/judgements`, { lotIds, text: 'looked at', ...verdict });
const close = (id: number) => post(quality, `${path}/${id}/close`, { text: 'every hook is gauged now' });
const letter = (customerId: number, extra: object = {}) => ({
  ...{ customerId, attention: 'Mira, purchasing', found: 'Hooks were bent.' },
  ...{ asked: 'Please set the pieces aside.', jobTitle: 'Head of quality', ...extra },
});

let first: number;
let second: number;
beforeAll(async () => {
  const lots = await releasedLots();
  first = lots[0]?.id ?? 0;
  second = lots[1]?.id ?? 0;
  await signAll(first);
  await signAll(second);
  const check = { acceptedCount: 24, rejectedCount: 0, reworkCount: 0, reason: '', notes: '' };
  await ok(post(quality, `/lots/${first}/final-check`, check), 201);
  const shipment = { quantity: 20, carrier: 'van', document: 'D', notes: '' };
  await ok(post(planner, `/lots/${first}/shipments`, shipment), 201);
});

describe('an impact assessment', () => {
  it('kept what was found when it was opened, whatever was shipped since', async () => {
    const { id, assessed, lots, number } = await opened();
    expect([lots, assessed.map(({ lotId }) => lotId)]).toEqual([2, [second, first]]);
    const shipped = assessed[1];
    expect(shipped?.facts).toMatchObject({ quantity: 24, shipments: [{ quantity: 20 }], certificates: [] });
    expect(shipped?.ties.length).toBeGreaterThan(0);
    await ok(
      post(planner, `/lots/${first}/shipments`, { quantity: 4, carrier: '', document: '', notes: '' }),
      201,
    );
    const after = await now(id);
    expect(after.assessed[1]?.facts).toEqual(shipped?.facts);
    expect(after.assessed[1]?.shippedCount).toBe(24);
    const trace = await ok<{ events: { title: string }[] }>(quality({ url: `/api/lots/${first}/trace` }));
    expect(trace.events.map(({ title }) => title)).toContain(
      `Impact assessment ${number}: came under assessment`,
    );
    const found = await ok<{ items: { page: object }[] }>(quality({ url: `/api/search?q=${number}` }));
    expect(found.items[0]?.page).toEqual({ kind: 'assessment', id });
  });

  it('was closed with a lot that nobody judged, or a customer whom nobody told', async () => {
    const { id } = await opened();
    expect((await close(id)).json()).toMatchObject({ code: 'conflict' });
    await ok(judge(id, [second], { affected: false }), 201);
    await ok(judge(id, [first], { affected: true, text: 'loose on the hook' }), 201);
    const judged = await now(id);
    expect(judged.missing).toHaveLength(1);
    expect(judged.missing[0]).toMatch(/^a letter to .* about L-/);
    expect((await close(id)).statusCode).toBe(409);
    const customerId = judged.customers[0]?.id ?? 0;
    const sheet = await ok<{ facts: { lots: { number: string }[] }; found: string }>(
      quality({ url: `/api${path}/${id}/letter-sheet?customerId=${customerId}` }),
    );
    expect(sheet.found).toContain('loose on the hook');
    const told = await ok<ImpactAssessment>(post(quality, `${path}/${id}/letters`, letter(customerId)), 201);
    expect(told.missing).toEqual([]);
    const [sent] = told.customers[0]?.letters ?? [];
    const pdf = await quality({ url: `/api/customer-letters/${sent?.id}/pdf` });
    const text = (await readPdf(pdf.rawPayload)).map((page) => page.text).join(' ');
    for (const words of [
      sent?.number ?? '-',
      'Hooks were bent.',
      'Please set the pieces aside.',
      'Mira, purchasing',
    ])
      expect(text).toContain(words);
    expect(text).toContain(sheet.facts.lots[0]?.number ?? '-');
    const closed = await ok<ImpactAssessment>(close(id));
    expect([closed.state, closed.closed?.text]).toEqual(['closed', 'every hook is gauged now']);
  });

  it('was changed after it was closed', async () => {
    const { id } = await opened({ about: null });
    expect((await close(id)).statusCode).toBe(409);
    const { number } = await db.prisma.lot.findUniqueOrThrow({ where: { id: second } });
    const added = post(quality, `${path}/${id}/lots`, { lotNumber: number.toLowerCase(), why: 'same rack' });
    expect((await ok<ImpactAssessment>(added, 201)).assessed[0]?.why).toBe('same rack');
    const again = await post(quality, `${path}/${id}/lots`, { lotNumber: number, why: 'twice' });
    expect(again.statusCode).toBe(409);
    expect((await post(quality, `${path}/${id}/lots`, { lotNumber: 'L-0', why: 'none' })).statusCode).toBe(
      422,
    );
    await ok(judge(id, [second], { affected: false }), 201);
    await ok(close(id));
    for (const [url, body] of [
      ['judgements', { lotIds: [second], affected: true, text: 'no' }],
      ['holds', { lotIds: [second], reason: 'no' }],
      ['lots', { lotNumber: number, why: 'no' }],
      ['assignment', { ownerId: quality.personId, dueOn: due, reason: 'no' }],
      ['close', { text: 'no' }],
    ] as const)
      expect((await post(quality, `${path}/${id}/${url}`, body)).statusCode, url).toBe(409);
    // Nor past the service.
    const row = {
      assessmentId: id,
      kind: 'judgement',
      lotId: second,
      affected: true,
      text: 'no',
      byId: shop.authorId,
    };
    await expect(db.prisma.assessmentEntry.create({ data: row })).rejects.toThrow();
    await expect(
      db.prisma.impactAssessment.update({ where: { id }, data: { state: 'open' } }),
    ).rejects.toThrow();
    await expect(db.prisma.assessmentEntry.deleteMany({ where: { assessmentId: id } })).rejects.toThrow();
  });

  it('excused a customer before another of their lots was judged affected', async () => {
    const { id } = await opened();
    await ok(judge(id, [first], { affected: true }), 201);
    const customerId = (await now(id)).customers[0]?.id ?? 0;
    const reason = { customerId, reason: 'they were told on the telephone' };
    expect(
      (await ok<ImpactAssessment>(post(quality, `${path}/${id}/no-letters`, reason), 201)).missing,
    ).toHaveLength(1);
    await ok(judge(id, [first], { affected: false }), 201);
    // They have nothing that is affected now.
    expect((await post(quality, `${path}/${id}/letters`, letter(customerId))).statusCode).toBe(422);
    const turned = await ok<ImpactAssessment>(judge(id, [first], { affected: true }), 201);
    expect(turned.customers[0]?.untold).toHaveLength(1);
    expect(turned.assessed[1]?.judgements.map(({ affected }) => affected)).toEqual([true, false, true]);
  });

  it('held one lot and left the other, where one could not be held', async () => {
    const { id } = await opened();
    // All of it left the house: there is nothing to hold.
    expect((await now(id)).assessed[1]?.status).toBe('shipped');
    const both = await post(quality, `${path}/${id}/holds`, {
      lotIds: [first, second],
      reason: 'look first',
    });
    expect(both.statusCode).toBe(409);
    expect((await ok<Lot>(quality({ url: `/api/lots/${second}` }))).held).toBe(false);
    const { assessed, number } = await ok<ImpactAssessment>(
      post(quality, `${path}/${id}/holds`, { lotIds: [second], reason: 'look first' }),
      201,
    );
    expect(assessed[0]?.held).toBe(true);
    const lot = await ok<Lot>(quality({ url: `/api/lots/${second}` }));
    expect(lot.holds[0]?.reason).toBe(`${number}: look first`);
    const foreign = await post(quality, `${path}/${id}/holds`, { lotIds: [999999], reason: 'x' });
    expect(foreign.statusCode).toBe(422);
  });

  it('leads to a nonconformance of one of its lots', async () => {
    const { id } = await opened();
    const sheet = await ok<NonconformanceSheet>(quality({ url: `/api/lots/${second}/nonconformance-sheet` }));
    const found = {
      ...sheet.known,
      ...{ holdId: null, finalCheckId: null, shipmentId: null, customerReference: '', fault: 'uneven' },
      ...{ description: 'shade', place: '', requirement: 'dE00 3', measuredValue: null, measuredUnit: '' },
      ...{ containment: 'held', photoIds: [] },
    };
    const made = await ok<{ number: string }>(
      post(quality, `${path}/${id}/nonconformances`, { lotId: second, found }),
      201,
    );
    expect((await now(id)).assessed[0]?.nonconformances[0]?.number).toBe(made.number);
  });

  it('was given to who may not judge, to be done by a day that is over, or opened by who may not', async () => {
    const { id } = await opened();
    expect((await open({ ownerId: operator.personId })).json<{ issues: object[] }>().issues).toMatchObject([
      { path: 'ownerId' },
    ]);
    expect((await open({ dueOn: '2020-01-01' })).json<{ issues: object[] }>().issues).toMatchObject([
      { path: 'dueOn' },
    ]);
    expect((await open({ about: null, from: '2026-01-01' })).statusCode).toBe(422);
    expect((await open({ about: 'rack-999999' })).statusCode).toBe(404);
    for (const person of [lab, planner, operator]) expect((await open({}, person)).statusCode).toBe(403);
    expect((await operator({ url: `/api${path}/${id}` })).statusCode).toBe(403);
    expect((await lab({ url: `/api${path}/${id}` })).statusCode).toBe(200);
    const moved = { ownerId: quality.personId, dueOn: '2099-03-01', reason: 'the customer asked' };
    expect((await ok<ImpactAssessment>(post(quality, `${path}/${id}/assignment`, moved))).dueOn).toBe(
      '2099-03-01',
    );
  });

  it('is listed, on Today, and leaves as CSV', async () => {
    const { items } = await ok<{ items: { number: string }[] }>(
      quality({ url: `/api${path}?state=open&lotId=${first}&search=hooks` }),
    );
    const { body } = await quality({ url: `/api${path}.csv?state=open&lotId=${first}&search=hooks` });
    expect(body.trim().split('\r\n')).toHaveLength(items.length + 1);
    const { id } = await opened();
    const lots = await quality({ url: `/api${path}/${id}/lots.csv` });
    expect(lots.body.trim().split('\r\n')).toHaveLength(3);
    const today = await ok<{ sections: { key: string; total: number }[] }>(quality({ url: '/api/today' }));
    const total = await db.prisma.impactAssessment.count({ where: { state: 'open' } });
    expect(today.sections.find(({ key }) => key === 'assessments')?.total).toBe(total);
    const sheet = await ok<{ totals: { lots: number }; open: object[] }>(
      quality({ url: `/api/impact-assessment-sheet?about=rack-${shop.rackId}` }),
    );
    expect(sheet.totals.lots).toBe(2);
    expect(sheet.open.length).toBeGreaterThan(1);
  });
});
