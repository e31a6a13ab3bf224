import type { Addition, Analysis, Bath, BathPage, ChemicalLot } from '@huelot/contracts';
import fc from 'fast-check';
import { beforeAll, expect, test } from 'vitest';
import { type Ask, testApp } from '../../../../../tests/support/app.ts';
import * as lab from '../../../../../tests/support/lab.ts';

const { as, db } = await testApp();
let lena: Ask & { personId: number };
let lars: Ask & { personId: number };
const pin = '4711';
beforeAll(async () => {
  lena = await as('lab', 'planner');
  lars = await as('lab');
  await lab.givePin(db, [lars.personId], pin);
});

/** What somebody does next; amounts go beyond what the stock holds, so that refusals happen too. */
const happening = fc.oneof(
  fc.record({
    what: fc.constant('analyse' as const),
    factor: fc.double({ min: 0.9, max: 1.1, noNaN: true }),
  }),
  fc.record({
    what: fc.constant('add' as const),
    kg: fc.double({ min: 0.5, max: 120, noNaN: true }),
    decantKg: fc.double({ min: 0, max: 30, noNaN: true }),
  }),
  fc.record({
    what: fc.constant('correct-addition' as const),
    kg: fc.double({ min: 0.5, max: 120, noNaN: true }),
  }),
  fc.record({
    what: fc.constant('correct-analysis' as const),
    factor: fc.double({ min: 0.9, max: 1.1, noNaN: true }),
  }),
  fc.record({ what: fc.constant('count' as const), kg: fc.double({ min: -80, max: 80, noNaN: true }) }),
  fc.record({ what: fc.constant('withdraw' as const) }),
  fc.record({ what: fc.constant('dump' as const) }),
);

/** The book that a careful person would keep beside: what ought to be there. */
interface Book {
  stockKg: number;
  bathKg: number;
  doneAdditions: { id: number; kg: number; decantKg: number }[];
  analyses: number[];
  dumped: boolean;
}

const waste = { volumeL: 5, category: 'alkaline', destination: 'own treatment', document: '' } as const;
const linesOf = (lot: ChemicalLot, { kg, decantKg }: { kg: number; decantKg: number }) => [
  ...(decantKg > 0
    ? [
        {
          action: 'decant' as const,
          chemicalLotId: null,
          kg: decantKg,
          volumeL: null,
          measured: 'by-level' as const,
          waste,
        },
      ]
    : []),
  {
    action: 'add-stock' as const,
    chemicalLotId: lot.id,
    kg,
    volumeL: null,
    measured: 'weighed' as const,
    waste: null,
  },
];

async function happen(
  options: lab.EquippedLab,
  book: Book,
  event: typeof happening extends fc.Arbitrary<infer E> ? E : never,
) {
  const send = (url: string, payload: object, headers = {}) =>
    lena({ method: 'POST', url, payload, headers });
  const actuals = (amounts: { kg: number; decantKg: number }) => ({
    startedAt: new Date().toISOString(),
    finishedAt: new Date().toISOString(),
    temperatureBeforeC: null,
    temperatureAfterC: null,
    volumeBeforeL: null,
    volumeAfterL: null,
    lines: linesOf(options.lot, amounts),
    checker: { personId: lars.personId, pin },
    reason: 'as weighed',
    notes: '',
  });
  switch (event.what) {
    case 'analyse': {
      const reply = await send(
        `/api/baths/${options.bath.id}/analyses`,
        lab.titration(options, { factor: event.factor, answer: 'read twice' }),
      );
      expect(reply.statusCode).toBe(book.dumped ? 409 : 201);
      if (reply.statusCode === 201) book.analyses.push(reply.json<Analysis>().id);
      return;
    }
    case 'add': {
      const { bath } = await lab.sheetOf(lena, options.bath.id);
      const planned = await send(`/api/baths/${options.bath.id}/additions`, lab.raise(options, null), {
        'if-match': `"${bath.version}"`,
      });
      expect(planned.statusCode).toBe(book.dumped ? 409 : 201);
      if (planned.statusCode !== 201) return;
      const { id } = planned.json<Addition>();
      const reply = await send(`/api/additions/${id}/complete`, actuals(event));
      expect(reply.statusCode, reply.body).toBe(event.kg <= book.stockKg + 1e-9 ? 201 : 422);
      if (reply.statusCode !== 201) {
        await lab.post(lena, `/api/additions/${id}/withdraw`, { reason: 'not enough in stock' });
        return;
      }
      book.stockKg -= event.kg;
      book.bathKg += event.kg - event.decantKg;
      book.doneAdditions.push({ id, kg: event.kg, decantKg: event.decantKg });
      return;
    }
    case 'correct-addition': {
      const last = book.doneAdditions.at(-1);
      if (last === undefined) return;
      // These corrections are of this minute, and nothing was added after the dump.
      if (book.dumped) return;
      const reply = await send(`/api/additions/${last.id}/corrections`, actuals({ ...last, kg: event.kg }));
      expect(reply.statusCode, reply.body).toBe(event.kg <= book.stockKg + last.kg + 1e-9 ? 201 : 422);
      if (reply.statusCode !== 201) return;
      book.stockKg += last.kg - event.kg;
      book.bathKg += event.kg - last.kg;
      book.doneAdditions[book.doneAdditions.length - 1] = {
        ...last,
        id: reply.json<Addition>().id,
        kg: event.kg,
      };
      return;
    }
    case 'correct-analysis': {
      const last = book.analyses.at(-1);
      if (last === undefined || book.dumped) return;
      const corrected = await lab.post<Analysis>(lena, `/api/analyses/${last}/corrections`, {
        ...lab.titration(options, { factor: event.factor, answer: 'read twice' }),
        reason: 'burette misread',
      });
      book.analyses[book.analyses.length - 1] = corrected.id;
      return;
    }
    case 'count': {
      if (Math.abs(event.kg) < 1e-3) return;
      const reply = await send(`/api/chemical-lots/${options.lot.id}/movements`, {
        kind: 'adjustment',
        kg: event.kg,
        reason: 'counted',
      });
      expect(reply.statusCode).toBe(book.stockKg + event.kg >= 0 ? 201 : 422);
      if (reply.statusCode === 201) book.stockKg += event.kg;
      return;
    }
    case 'withdraw': {
      const { planned } = await lab.sheetOf(lena, options.bath.id);
      expect(planned).toBeNull();
      return;
    }
    case 'dump': {
      const { bath } = await lab.sheetOf(lena, options.bath.id);
      const reply = await send(
        `/api/baths/${options.bath.id}/dump`,
        { reason: 'used up', waste },
        { 'if-match': `"${bath.version}"` },
      );
      expect(reply.statusCode).toBe(book.dumped ? 409 : 200);
      if (reply.statusCode === 200) expect(reply.json<Bath>().dumpedAt).not.toBeNull();
      book.dumped = true;
    }
  }
}

test('whatever happens, stock and bath are what was booked, and no stock is ever below nothing', async () => {
  const story = fc.asyncProperty(fc.array(happening, { minLength: 3, maxLength: 12 }), async (events) => {
    const of = await lab.equipLab(lena);
    const book: Book = { stockKg: 200, bathKg: 0, doneAdditions: [], analyses: [], dumped: false };
    for (const event of events) await happen(of, book, event);

    const { lots } = (await lena({ url: `/api/chemicals/${of.chemical.id}` })).json<{
      lots: ChemicalLot[];
    }>();
    expect(lots[0]?.balanceKg).toBeCloseTo(book.stockKg, 6);
    const { life } = (await lena({ url: `/api/baths/${of.bath.id}` })).json<BathPage>();
    expect(life.bookedKg).toBeCloseTo(book.bathKg, 6);
    expect(life.additions).toBe(book.doneAdditions.length);
    expect(life.analyses).toBe(book.analyses.length);
    const addedKg = book.doneAdditions.reduce((sum, { kg }) => sum + kg, 0);
    expect(life.chemicals.reduce((sum, { kg }) => sum + kg, 0)).toBeCloseTo(addedKg, 6);

    // The ledger: each balance is the one before it and the movement; none is below nothing; the last is the sum.
    const ledger = await db.prisma.stockMovement.findMany({
      where: { lotId: of.lot.id },
      orderBy: { id: 'asc' },
    });
    let balance = 0;
    for (const { kg, balanceKg } of ledger) {
      balance += kg;
      expect(balanceKg).toBeGreaterThanOrEqual(0);
      expect(balanceKg).toBeCloseTo(balance, 6);
    }
    // Every line that counts took its kilograms from stock once; every line that was corrected gave them back.
    const taken = await db.prisma.addition.findMany({
      where: { bathId: of.bath.id, state: 'done' },
      include: { lines: { include: { movements: true } }, correctedBy: true },
    });
    for (const { lines, correctedBy } of taken)
      for (const { kg, chemicalLotId, movements } of lines) {
        const owed = chemicalLotId === null || correctedBy !== null ? 0 : -kg;
        expect(movements.reduce((sum, movement) => sum + movement.kg, 0)).toBeCloseTo(owed, 9);
      }
  });
  await fc.assert(story, { numRuns: 25 });
}, 240_000);

test('the database itself refuses a balance below nothing and a rewritten ledger', async () => {
  const of = await lab.equipLab(lena);
  const movement = { lotId: of.lot.id, kind: 'adjustment', kg: -200.5, personId: lena.personId };
  await expect(db.prisma.stockMovement.create({ data: movement })).rejects.toThrow(/only 200.000 kg/);
  await expect(
    db.prisma.stockMovement.updateMany({ where: { lotId: of.lot.id }, data: { kg: 1 } }),
  ).rejects.toThrow(/kept as it was written/);
  const both = await Promise.allSettled(
    [-150, -150].map((kg) => db.prisma.stockMovement.create({ data: { ...movement, kg } })),
  );
  expect(both.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected']);
});
