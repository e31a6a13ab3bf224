import type { PageRef } from '@huelot/contracts';
import { parse } from 'csv-parse/sync';
import { expect, test } from 'vitest';
import { mainLine, ok } from '../support/main-line.ts';

const { db, shop, planner, operator, quality, releasedLots, signAll } = await mainLine();

test('the search box finds a lot by its number, for those who may read it', async () => {
  const [lot] = await releasedLots();
  const { items } = await ok<{ items: { page: PageRef }[] }>(
    operator({ url: `/api/search?q=${lot?.number}` }),
  );
  expect(items[0]?.page).toEqual({ kind: 'lot', id: lot?.id });
  const { items: orders } = await ok<{ items: unknown[] }>(operator({ url: '/api/search?q=O-0' }));
  expect(orders).toEqual([]);
});

test('the search box knew no contacts, materials, short numbers or scanned addresses', async () => {
  const find = async (words: string) => {
    const { items } = await ok<{ items: { kind: string; page: PageRef; title: string }[] }>(
      planner({ url: `/api/search?q=${encodeURIComponent(words)}` }),
    );
    return items;
  };
  const [lot] = await releasedLots();
  const traveler = await db.prisma.traveler.findFirstOrThrow({ where: { lotId: lot?.id ?? 0 } });
  const bare = (lot?.number ?? '').replace(/^\D+0*/, '');
  expect((await find(bare)).map(({ page }) => page)).toContainEqual({ kind: 'lot', id: lot?.id });
  expect((await find(`l${bare}`))[0]?.page).toEqual({ kind: 'lot', id: lot?.id });
  const [scanned] = await find(`https://shop.example/t/${traveler.number}/1`);
  expect(scanned?.page).toEqual({ kind: 'traveler', id: traveler.id });

  const customer = await db.prisma.customer.findFirstOrThrow();
  await db.prisma.customerContact.create({
    data: { customerId: customer.id, position: 9, name: 'Mira Lindqvist', email: 'mira@customer.example' },
  });
  for (const words of ['mira', 'mira@customer']) {
    const [contact] = await find(words);
    expect(contact).toMatchObject({ kind: 'contact', page: { kind: 'customer', id: customer.id } });
    expect(contact?.title).toContain(customer.name);
  }
  const material = await db.prisma.material.findFirstOrThrow();
  expect(await find(material.name)).toContainEqual(
    expect.objectContaining({ kind: 'material', page: { kind: 'material', id: material.id } }),
  );
});

test('Today shows each role what it can act on', async () => {
  await releasedLots();
  const mine = await ok<{ sections: { key: string; total: number }[] }>(operator({ url: '/api/today' }));
  expect(mine.sections.map(({ key }) => key)).toEqual(['bathHolds', 'steps', 'actions']);
  expect(mine.sections[1]?.total).toBeGreaterThan(0);
  const planned = await ok<{ sections: { key: string }[] }>(planner({ url: '/api/today' }));
  expect(planned.sections.map(({ key }) => key)).toEqual([
    'stoppedBaths',
    'holds',
    'bathHolds',
    'releases',
    'shipments',
    'deliveryNotes',
    'actions',
    'deliveries',
    'evidence',
    'colourStandards',
    'colourMeters',
  ]);
});

test.each(['orders', 'lots'])(
  '%s page by cursor in any order, without losing or repeating one',
  async (list) => {
    for (let at = 0; at < 3; at += 1) await releasedLots();
    const read = async (sort: string) => {
      const seen: { id: number; dueDate: string }[] = [];
      for (let after: string | null = ''; after !== null;) {
        const page: { items: typeof seen; next: string | null } = await ok(
          planner({ url: `/api/${list}?limit=2&sort=${sort}&after=${after}` }),
        );
        seen.push(...page.items);
        after = page.next;
      }
      return seen;
    };
    for (const key of ['due', 'createdAt']) {
      const upwards = (await read(key)).map(({ id }) => id);
      expect(upwards.length).toBeGreaterThan(2);
      expect(new Set(upwards).size).toBe(upwards.length);
      expect((await read(`-${key}`)).map(({ id }) => id)).toEqual(upwards.toReversed());
    }
    const days = (await read('due')).map(({ dueDate }) => dueDate);
    expect(days).toEqual(days.toSorted());
  },
);

test.each(['quotations', 'orders', 'lots'])(
  'the list of %s leaves as CSV, asked as it is shown',
  async (list) => {
    await releasedLots();
    const rowsOf = async (query: string) => {
      const reply = await planner({ url: `/api/${list}.csv${query}` });
      expect(reply.headers['content-type']).toContain('text/csv');
      return parse<Record<string, string>>(reply.body, { columns: true, bom: true });
    };
    const { items } = await ok<{ items: { number: string; customer: { name: string } }[] }>(
      planner({ url: `/api/${list}?limit=200` }),
    );
    const rows = await rowsOf('');
    expect(rows.map(({ number, customer }) => [number, customer])).toEqual(
      items.map(({ number, customer }) => [number, customer.name]),
    );
    expect((await rowsOf(`?search=${items[0]?.number}`)).map(({ number }) => number)).toContain(
      items[0]?.number,
    );
    // A per cent sign is looked for, not taken as “anything”.
    expect(await rowsOf('?search=%25')).toEqual([]);
  },
);

test('the search of as-run settings leaves as CSV with every hit, and its formulas defused', async () => {
  await db.prisma.customer.update({ where: { id: shop.customerId }, data: { name: '=1+1' } });
  const [lot] = await releasedLots();
  await signAll(lot?.id ?? 0);
  const reply = await quality({ url: '/api/trace.csv?stepKind=colour' });
  expect(reply.headers['content-type']).toContain('text/csv');
  const rows = parse<Record<string, string>>(reply.body, { columns: true, bom: true });
  expect(rows).toHaveLength(await db.prisma.stepSignOff.count({ where: { stepKind: 'colour' } }));
  expect(rows[0]).toMatchObject({ lot: lot?.number, customer: "'=1+1", voltageV: '30' });
});
