import { createHash } from 'node:crypto';
import type { DeliveryNote, DeliverySheet, GoodsReturn, Lot, LotSummary } from '@huelot/contracts';
import { beforeAll, describe, expect, it } from 'vitest';
import { mainLine, ok, post } from '../../../../../tests/support/main-line.ts';
import { readPdf } from '../../../../../tests/support/pdf.ts';

const line = await mainLine();
const { db, planner, operator, quality, estimator } = line;
beforeAll(async () => {
  await db.prisma.shop.update({ where: { id: 1 }, data: { name: 'Row Works', address: '1 Row, Mill Lane' } });
});

/** Two lots of 24 of one order line: the first ships 20 and 3 with one rejected, the second all 24. */
async function shippedLots({ parts = [20, 3] } = {}): Promise<[Lot, Lot]> {
  const lots = (await line.releasedLots()) as [LotSummary, LotSummary];
  const done: Lot[] = [];
  for (const [index, { id }] of lots.entries()) {
    await line.signAll(id);
    const rejectedCount = index === 0 ? 1 : 0;
    const check = {
      ...{ acceptedCount: 24 - rejectedCount, rejectedCount, reworkCount: 0 },
      ...{ reason: rejectedCount > 0 ? 'scratched' : '', notes: '' },
    };
    await ok(post(quality, `/lots/${id}/final-check`, check), 201);
    for (const quantity of index === 0 ? parts : [24])
      done[index] = await ok<Lot>(
        post(planner, `/lots/${id}/shipments`, { quantity, carrier: 'van', document: 'D-1', notes: '' }),
        201,
      );
  }
  return done as [Lot, Lot];
}
const idsOf = (lot: Lot) => lot.shipments.map(({ id }) => id).toSorted((a, b) => a - b);
const packed = (...packages: [shipmentId: number, quantity: number, grossKg?: number][]) =>
  packages.map(([shipmentId, quantity, grossKg = null]) => ({
    ...{ shipmentId, quantity, kind: 'carton', netKg: null, grossKg },
  }));
const body = (packages: ReturnType<typeof packed>, extra: object = {}) => ({
  ...{ shipmentIds: [...new Set(packages.map(({ shipmentId }) => shipmentId))], packages },
  ...{ address: 'Gate 4\nQuay Road', carrier: 'own van', document: 'W-9', notes: '' },
  ...extra,
});
const issue = (payload: object, ask = planner) => post(ask, '/delivery-notes', payload);
const textOf = async (bytes: Buffer) => (await readPdf(bytes)).map(({ text }) => text).join(' ');

describe('a delivery note', () => {
  it('gathers shipments of a line: ordered, before, in this, rejected and still to come, the same bytes for ever', async () => {
    const [one, two] = await shippedLots();
    const [early = 0, late = 0] = idsOf(one);
    const [other = 0] = idsOf(two);
    const sheet = await ok<DeliverySheet>(planner({ url: `/api/shipments/${early}/delivery-sheet` }));
    expect(sheet.shipments.map(({ id }) => id)).toEqual(expect.arrayContaining([early, late, other]));
    const first = await ok<DeliveryNote>(issue(body(packed([early, 12, 3.2], [early, 8]))), 201);
    expect(first).toMatchObject({ state: 'stands', pieces: 20, packages: 2 });
    const second = await ok<DeliveryNote>(issue(body(packed([late, 3], [other, 24]))), 201);
    const counts = ({ facts }: DeliveryNote) => facts.orders.map(({ lines }) => lines)[0];
    expect(counts(first)).toMatchObject([
      { ordered: 48, shippedBefore: 0, delivered: 20, rejected: 1, stillToCome: 27 },
    ]);
    expect(counts(second)).toMatchObject([
      { ordered: 48, shippedBefore: 20, delivered: 27, rejected: 1, stillToCome: 0 },
    ]);
    const bytes = async () => (await estimator({ url: `/api/delivery-notes/${first.id}/pdf` })).rawPayload;
    const before = await bytes();
    expect(createHash('sha256').update(before).digest('hex')).toBe(first.sha256);
    await db.prisma.shop.update({ where: { id: 1 }, data: { name: 'Other Works' } });
    expect((await bytes()).equals(before)).toBe(true);
    await db.prisma.shop.update({ where: { id: 1 }, data: { name: 'Row Works' } });
    const text = await textOf(before);
    for (const words of [
      'Row Works',
      first.number,
      'Gate 4',
      'PO 7',
      'own van, W-9',
      one.number,
      '3.2',
      'To come',
    ])
      expect(text).toContain(words);
  });

  it('was written for a shipment twice, also by two at once', async () => {
    const [one] = await shippedLots();
    const [early = 0] = idsOf(one);
    const replies = await Promise.all([issue(body(packed([early, 20]))), issue(body(packed([early, 20])))]);
    expect(replies.map(({ statusCode }) => statusCode).toSorted()).toEqual([201, 409]);
    const { id } = replies.find(({ statusCode }) => statusCode === 201)?.json<DeliveryNote>() ?? { id: 0 };
    await expect(
      db.pool.query(`insert into "delivery_line" ("noteId", "shipmentId") values (${id}, ${early})`),
    ).rejects.toThrow();
  });

  it.each([
    ['pieces that were not shipped', (id: number) => body(packed([id, 21])), 'packages'],
    [
      'a package lighter than what is in it',
      (id: number) => body([{ ...packed([id, 20, 1])[0], netKg: 2 }] as never),
      'grossKg',
    ],
    ['a shipment twice', (id: number) => body(packed([id, 20]), { shipmentIds: [id, id] }), 'shipmentIds'],
    [
      'a shipment that is not there',
      (id: number) => body(packed([id, 20]), { shipmentIds: [id, 999_999] }),
      'shipmentIds',
    ],
    [
      'a package of another shipment',
      (id: number) => body(packed([id, 20], [999_999, 1]), { shipmentIds: [id] }),
      'packages',
    ],
    ['no package at all', (id: number) => body([], { shipmentIds: [id] }), 'packages'],
  ])('names %s', async (_, payload, path) => {
    const [one] = await shippedLots();
    const reply = await issue(payload(idsOf(one)[0] ?? 0));
    expect(reply.statusCode).toBe(422);
    expect(reply.body).toContain(path);
    expect(await db.prisma.deliveryLine.count({ where: { shipmentId: idsOf(one)[0] ?? 0 } })).toBe(0);
  });

  it('took a lot along that is on hold, or was written by who may not', async () => {
    const [one] = await shippedLots({ parts: [20] });
    const [early = 0] = idsOf(one);
    await ok(post(quality, `/lots/${one.id}/hold`, { reason: 'stains' }), 201);
    expect((await issue(body(packed([early, 20])))).statusCode).toBe(409);
    for (const ask of [operator, estimator])
      expect((await issue(body(packed([early, 20])), ask)).statusCode).toBe(403);
  });

  it('was changed after it was issued', async () => {
    const [one] = await shippedLots();
    const { id } = await ok<DeliveryNote>(issue(body(packed([idsOf(one)[0] ?? 0, 20]))), 201);
    for (const statement of [
      `update "delivery_note" set "facts" = '{}' where "id" = ${id}`,
      `delete from "delivery_note" where "id" = ${id}`,
      `delete from "delivery_line" where "noteId" = ${id}`,
      `update "delivery_line" set "shipmentId" = 1 where "noteId" = ${id}`,
      `truncate "delivery_note" cascade`,
    ])
      await expect(db.pool.query(statement), statement).rejects.toThrow();
  });
});

describe('what waits on Today', () => {
  const waiting = async () => {
    const { sections } = await ok<{ sections: { key: string; items: { page: { id: number } }[] }[] }>(
      planner({ url: '/api/today' }),
    );
    return sections.find(({ key }) => key === 'deliveryNotes')?.items.map(({ page }) => page.id) ?? [];
  };
  it('is a shipment without a note, and again where its note was withdrawn', async () => {
    await db.prisma.deliveryDue.deleteMany();
    const [one] = await shippedLots();
    const [early = 0] = idsOf(one);
    expect(await waiting()).toContain(early);
    const note = await ok<DeliveryNote>(issue(body(packed([early, 20]))), 201);
    expect(await waiting()).not.toContain(early);
    const withdraw = () => post(planner, `/delivery-notes/${note.id}/withdrawal`, { reason: 'wrong gate' });
    expect(await ok<DeliveryNote>(withdraw())).toMatchObject({
      state: 'withdrawn',
      withdrawn: { reason: 'wrong gate' },
    });
    expect((await withdraw()).statusCode).toBe(409);
    expect(await waiting()).toContain(early);
    await ok(issue(body(packed([early, 20]))), 201);
  });
});

describe('labels', () => {
  it('are one a package, of the size that was asked for, and name what is in it', async () => {
    const [one] = await shippedLots();
    const note = await ok<DeliveryNote>(
      issue(body(packed([idsOf(one)[0] ?? 0, 12, 3.2], [idsOf(one)[0] ?? 0, 8]))),
      201,
    );
    const labels = (size: string) => planner({ url: `/api/delivery-notes/${note.id}/labels?${size}` });
    const reply = await labels('widthMm=100&heightMm=60');
    expect(reply.statusCode).toBe(200);
    expect(reply.rawPayload.toString('latin1')).toMatch(/MediaBox \[0 0 283\.46\d* 170\.07\d*\]/);
    const pages = await readPdf(reply.rawPayload);
    expect(pages).toHaveLength(2);
    expect(pages[0]?.text).toContain('Package 1 of 2');
    expect(pages[0]?.text).toContain('12 pieces, lot ' + one.number);
    for (const small of ['widthMm=30&heightMm=30', 'widthMm=300&heightMm=30', 'widthMm=30&heightMm=300'])
      expect(await readPdf((await labels(small)).rawPayload), small).toHaveLength(2);
    expect((await labels('widthMm=10&heightMm=60')).statusCode).toBe(422);
    expect((await labels('widthMm=100')).statusCode).toBe(422);
  });
});

describe('goods that came back', () => {
  it('are no more than went out, no earlier, and show on note, lot and order; a mistake is taken back', async () => {
    const [one] = await shippedLots();
    const [early = 0, late = 0] = idsOf(one);
    const note = await ok<DeliveryNote>(issue(body(packed([early, 20]))), 201);
    const today = new Date().toISOString().slice(0, 10);
    const back = (extra: object) =>
      post(planner, `/delivery-notes/${note.id}/returns`, {
        ...{ shipmentId: early, quantity: 5, returnedOn: today, reason: 'stains', notes: '' },
        ...extra,
      });
    for (const [extra, path] of [
      [{ quantity: 21 }, 'quantity'],
      [{ quantity: 0 }, 'quantity'],
      [{ shipmentId: late }, 'shipmentId'],
      [{ returnedOn: '2020-01-01' }, 'returnedOn'],
      [{ returnedOn: '2999-01-01' }, 'returnedOn'],
      [{ reason: ' ' }, 'reason'],
    ] as const) {
      const reply = await back(extra);
      expect(reply.statusCode, JSON.stringify(extra)).toBe(422);
      expect(reply.json()).toMatchObject({ issues: [{ path }] });
    }
    const replies = await Promise.all([back({ quantity: 15 }), back({ quantity: 15 })]);
    expect(replies.map(({ statusCode }) => statusCode).toSorted()).toEqual([201, 422]);
    const seen = await ok<DeliveryNote>(quality({ url: `/api/delivery-notes/${note.id}` }));
    expect(seen).toMatchObject({
      returned: 15,
      returns: [{ quantity: 15, reason: 'stains', withdrawn: null }],
    });
    for (const query of [`lotId=${one.id}`, `orderId=${one.order.id}`]) {
      const { items } = await ok<{ items: DeliveryNote[] }>(
        estimator({ url: `/api/delivery-notes?${query}` }),
      );
      expect(items).toMatchObject([{ id: note.id, returned: 15 }]);
    }
    expect((await post(planner, `/delivery-notes/${note.id}/withdrawal`, { reason: 'x' })).statusCode).toBe(
      409,
    );
    const { items } = await ok<{ items: GoodsReturn[] }>(
      post(planner, `/returns/${seen.returns[0]?.id}/withdrawal`, { reason: 'another customer’s' }),
    );
    expect(items).toMatchObject([{ withdrawn: { reason: 'another customer’s' } }]);
    expect((await post(planner, `/returns/${items[0]?.id}/withdrawal`, { reason: 'x' })).statusCode).toBe(
      409,
    );
    await ok(back({ quantity: 20 }), 201);
  });
});

it('finds delivery notes by number, customer and lot', async () => {
  const [one] = await shippedLots();
  const { number } = await ok<DeliveryNote>(issue(body(packed([idsOf(one)[0] ?? 0, 20]))), 201);
  for (const words of [number, one.number]) {
    const { items } = await ok<{ items: DeliveryNote[] }>(
      estimator({ url: `/api/delivery-notes?search=${words}` }),
    );
    expect(items.map((note) => note.number)).toEqual([number]);
  }
  const found = await ok<{ items: object[] }>(estimator({ url: `/api/search?q=${number}` }));
  expect(found.items).toMatchObject([{ kind: 'deliveryNote', number }]);
});
