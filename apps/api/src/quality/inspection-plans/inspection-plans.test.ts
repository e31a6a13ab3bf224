import type { InspectionPlan, LotInspection } from '@huelot/contracts';
import { describe, expect, it } from 'vitest';
import { ok } from '../../../../../tests/support/main-line.ts';
import { everyPiece, inspectedLine, sampled } from '../../../../../tests/support/inspected.ts';

describe('a part without a plan', () => {
  it('is accepted as before', async () => {
    const { finished, accepted, stateOf } = await inspectedLine();
    const lot = await finished();
    expect(await stateOf(lot.id)).toMatchObject({ planRevision: null, characteristics: [], missing: [] });
    await accepted(lot.id);
  });
});

describe('a plan', async () => {
  const { write, planOf, releasedLots, finished, inspect, check, accepted, stateOf, operator, db } =
    await inspectedLine();

  it('is written over by nobody who did not see the last revision', async () => {
    const first = await write([everyPiece]);
    expect(first.statusCode, first.body).toBe(200);
    const [one, other] = await Promise.all([write([everyPiece, sampled()]), write([sampled()])]);
    expect([one.statusCode, other.statusCode].toSorted()).toEqual([200, 409]);
    expect((await planOf()).revision).toBe(2);
    await write([everyPiece, sampled()]);
  });

  it.each([
    [[sampled({ aql: '3.0' })], /aql/],
    [[sampled({ level: 'IV' })], /level/],
    [[everyPiece, { ...everyPiece, name: 'FILM' }], /different names/],
    [[{ ...everyPiece, method: '' }], /method/],
  ])('refuses %j', async (characteristics, words) => {
    const reply = await write(characteristics);
    expect(reply.statusCode).toBe(422);
    expect(reply.body).toMatch(words);
  });

  it('is written by quality', async () => {
    expect((await write([everyPiece], operator)).statusCode).toBe(403);
  });

  it('keeps pieces from being accepted until each of it was looked at', async () => {
    const lot = await finished();
    const { characteristics, missing } = await stateOf(lot.id);
    expect(missing).toEqual(['Film is not inspected yet', 'Rub test is not inspected yet']);
    // MIL-STD-105E tables I and II-A: 24 pieces at level II are letter C, whose cell under 4.0 leads up to letter B.
    expect(characteristics[1]?.asked).toMatchObject({ letter: 'B', inspect: 3, ac: 0, re: 1 });
    const early = await check(lot.id);
    expect(early.statusCode).toBe(409);
    expect(early.body).toContain('Film is not inspected yet');
    await ok(inspect(lot.id, { name: 'Film', found: 2 }), 201);
    const state = await ok<LotInspection>(inspect(lot.id, { name: 'Rub test' }), 201);
    expect(state.missing).toEqual([]);
    expect(state.characteristics[1]?.records).toMatchObject([
      { severity: 'normal', letter: 'B', sampleSize: 3, inspected: 3, found: 0, verdict: 'accepted' },
    ]);
    const all = await check(lot.id);
    expect(all.statusCode).toBe(422);
    expect(all.body).toContain('at most 22');
    await accepted(lot.id, { acceptedCount: 22, rejectedCount: 2, reason: 'powder' });
  });

  it('asks for every piece where it says so, and for no fewer than the sample', async () => {
    const lot = await finished();
    for (const [input, path] of [
      [{ name: 'Film', inspected: 23 }, 'inspected'],
      [{ name: 'Rub test', inspected: 2 }, 'inspected'],
      [{ name: 'Rub test', inspected: 25 }, 'inspected'],
      [{ name: 'Rub test', found: 4 }, 'found'],
      [{ name: 'Rub test', isScreening: true, inspected: 24 }, 'isScreening'],
      [{ name: 'nothing of it' }, 'characteristicId'],
      [{ name: 'Film', instrumentId: 999_999 }, 'instrumentId'],
    ] as const) {
      const reply = await inspect(lot.id, input);
      expect(reply.statusCode, reply.body).toBe(422);
      expect(reply.body).toContain(path);
    }
    expect((await inspect(lot.id, { name: 'Film' }, operator)).statusCode).toBe(403);
  });

  it('is inspected once, also by two people at once, and its records stand', async () => {
    const lot = await finished();
    const replies = await Promise.all([1, 2, 3].map(() => inspect(lot.id, { name: 'Film' })));
    expect(replies.map(({ statusCode }) => statusCode).toSorted()).toEqual([201, 409, 409]);
    for (const table of ['inspection', 'inspection_plan', 'inspection_characteristic'])
      for (const change of [
        `update "${table}" set "id" = "id"`,
        `delete from "${table}"`,
        `truncate "${table}" cascade`,
      ])
        await expect(db.prisma.$executeRawUnsafe(change)).rejects.toThrow();
  });

  it('comes after the last step', async () => {
    const [early] = await releasedLots();
    expect((await inspect(early?.id ?? 0, { name: 'Film', inspected: 24 })).body).toContain(
      'after the last step',
    );
    const lot = await finished();
    await ok(inspect(lot.id, { name: 'Film' }), 201);
    await ok(inspect(lot.id, { name: 'Rub test' }), 201);
    await accepted(lot.id);
    const late = await inspect(lot.id, { name: 'Film' });
    expect(late.statusCode).toBe(409);
  });
});

describe('the next drawing revision of a part', async () => {
  const { write, shop, db, quality } = await inspectedLine();

  it('was accepted without inspection: the plan goes on until one of its own is written', async () => {
    await write([everyPiece]);
    const [next] = await db.prisma.$queryRaw<{ id: number }[]>`
      insert into "part" select (jsonb_populate_record(p, jsonb_build_object(
               'id', nextval(pg_get_serial_sequence('part', 'id')), 'revision', 'Z', 'successorId', null))).*
        from "part" p where p."id" = ${shop.partId} returning "id"`;
    const id = next?.id ?? 0;
    await db.prisma.part.update({ where: { id: shop.partId }, data: { successorId: id } });
    const url = `/api/parts/${id}/inspection-plan`;
    expect(await ok<InspectionPlan>(quality({ url }))).toMatchObject({
      revision: 1,
      characteristics: [{ name: 'Film' }],
    });
    const payload = { follows: 1, note: 'the new drawing', characteristics: [sampled()] };
    await ok(quality({ method: 'PUT', url, payload }));
    expect(await ok<InspectionPlan>(quality({ url }))).toMatchObject({
      revision: 2,
      characteristics: [{ name: 'Rub test' }],
    });
    const before = await quality({ url: `/api/parts/${shop.partId}/inspection-plan` });
    expect(before.json()).toMatchObject({ revision: 1 });
  });
});

describe('a rejected sample', async () => {
  const { write, finished, inspect, check, accepted, stateOf } = await inspectedLine();

  it('lets a lot pass only by looking at every piece', async () => {
    await write([sampled()]);
    const lot = await finished();
    await ok(inspect(lot.id, { name: 'Rub test', found: 1 }), 201);
    expect((await stateOf(lot.id)).missing[0]).toContain('look at every piece');
    expect((await check(lot.id)).statusCode).toBe(409);
    expect((await inspect(lot.id, { name: 'Rub test', isScreening: true, inspected: 23 })).statusCode).toBe(
      422,
    );
    await ok(inspect(lot.id, { name: 'Rub test', isScreening: true, inspected: 24, found: 5 }), 201);
    expect(
      (await check(lot.id, { acceptedCount: 20, rejectedCount: 4, reason: 'rubs off' })).statusCode,
    ).toBe(422);
    await accepted(lot.id, { acceptedCount: 19, rejectedCount: 5, reason: 'rubs off' });
  });
});

describe('severity', async () => {
  const { write, finished, inspect, accepted, check, planOf, ship, resume, quality, shop } =
    await inspectedLine();
  const name = 'Rub test';
  const severity = async () => (await planOf()).characteristics[0]?.severity;
  async function lot(isGood: boolean) {
    const one = await finished();
    await ok(inspect(one.id, { name, found: isGood ? 0 : 1 }), 201);
    if (isGood) await accepted(one.id);
    else await ok(check(one.id, { acceptedCount: 0, rejectedCount: 24, reason: 'rubs off' }), 201);
    return one;
  }

  it('moves to tightened after two of five, and back after five in a row, each with the lot that moved it', async () => {
    await write([sampled()]);
    const results: (string | undefined)[] = [];
    for (const isGood of [false, true, false, true, true, true, true, true]) {
      await lot(isGood);
      results.push(await severity());
    }
    // MIL-STD-105E 4.7.1 and 4.7.2.
    expect(results).toEqual(['normal', 'normal', ...Array<string>(5).fill('tightened'), 'normal']);
    const { moves } = (await planOf()).characteristics[0] ?? { moves: [] };
    expect(moves.map(({ was, severity: to, because }) => [was, to, because])).toEqual([
      ['normal', 'tightened', '2 of 5 or fewer consecutive lots rejected'],
      ['tightened', 'normal', '5 consecutive lots accepted'],
    ]);
    expect(moves.every(({ lot: cause }) => cause !== null)).toBe(true);
  });

  it('stops after ten lots on tightened: nothing is inspected or shipped until quality takes it up again', async () => {
    const shipped = await lot(true);
    for (const isGood of [false, false]) await lot(isGood);
    for (let count = 0; count < 10; count++) await lot(count % 4 !== 0);
    expect(await severity()).toBe('stopped');
    const waiting = await finished();
    const refused = await inspect(waiting.id, { name });
    expect(refused.statusCode).toBe(409);
    expect(refused.body).toContain('discontinued');
    expect((await check(waiting.id)).body).toContain('discontinued');
    const held = await ship(shipped.id);
    expect(held.statusCode).toBe(409);
    expect(held.body).toContain('discontinued');
    const today = await quality({ url: '/api/today' });
    expect(today.body).toContain('Inspections discontinued');
    expect(today.body).toContain(name);

    expect((await resume('no such')).statusCode).toBe(422);
    await ok(resume(name), 200);
    expect((await resume(name)).statusCode).toBe(409);
    expect(await severity()).toBe('tightened');
    await ok(ship(shipped.id), 201);
    await ok(inspect(waiting.id, { name }), 201);
    expect(await severity()).toBe('tightened');
  }, 120_000);

  it('is the memory of the part number: a new plan under the same name begins with it', async () => {
    await write([sampled({ aql: '1.0' }), everyPiece]);
    expect(await severity()).toBe('tightened');
    expect(shop.partId).toBeGreaterThan(0);
  });
});
