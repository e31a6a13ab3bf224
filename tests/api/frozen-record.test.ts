import { type Part, PartFacts } from '@huelot/contracts';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { sql } from '../../apps/api/src/db/client.ts';
import { issuedRecord } from '../support/issued-record.ts';
import { edit, type Masters, updatePaths } from '../support/master-edits.ts';

const record = await issuedRecord();
const { db, owner, shop } = record;
const partPage = async () => (await owner({ url: `/api/parts/${shop.partId}` })).json<Part>();

test('an offered part could be edited in place: only its notes change, by the service and by the database', async () => {
  const part = await partPage();
  expect(part.used).toBe(true);
  const { material, agreedColour } = part;
  const stored: Record<string, unknown> = {
    ...part,
    ...{ materialId: material.id, colourStandardId: agreedColour?.standardId ?? null },
  };
  const body = Object.fromEntries(Object.keys(PartFacts.shape).map((field) => [field, stored[field]]));
  const put = (changed: object) =>
    owner({
      method: 'PUT',
      url: `/api/parts/${part.id}`,
      payload: { ...body, ...changed },
      headers: { 'if-match': `"${part.version}"` },
    });
  expect((await put({ description: 'another' })).json()).toMatchObject({
    status: 409,
    code: 'immutable',
    issues: [{ path: 'description' }],
  });
  const reply = await put({ notes: 'pack in pairs' });
  expect(reply.json(), reply.body).toMatchObject({ notes: 'pack in pairs', description: part.description });
  await expect(
    db.execute(sql`update "part" set "areaMm2" = "areaMm2" * 2 where "id" = ${shop.partId}`),
  ).rejects.toThrow(/make a new revision/);
});

/** Every table with a snapshot; found in the catalogue, so that a new one counts. */
const { rows: tables } = await db.pool.query<{ name: string }>(
  `select table_name as name from information_schema.columns
    where table_schema = 'public' and column_name = 'snapshot' order by 1`,
);
test('records of nearly every kind are there to try', async () => {
  const empty: string[] = [];
  for (const { name } of tables) {
    const { rows } = await db.pool.query(`select from "${name}" where "snapshot" <> '{}' limit 1`);
    if (rows.length === 0) empty.push(name);
  }
  expect(tables.length).toBeGreaterThan(28);
  expect(empty.length, empty.join()).toBeLessThan(3);
});
test.each(tables)(
  'nobody rewrites what $name showed when it was issued, not even in SQL',
  async ({ name }) => {
    const { rows: guards } = await db.pool.query<{ guard: string }>(
      `select p.proname as guard from pg_trigger t join pg_proc p on p.oid = t.tgfoid
      where t.tgrelid = $1::regclass and p.proname in ('take_snapshot', 'refuse_change', 'traveler_frozen')
        and t.tgtype & 16 > 0`,
      [`"${name}"`],
    );
    expect(guards).not.toHaveLength(0);
    const { rows } = await db.pool.query(`select from "${name}" where "snapshot" <> '{}' limit 1`);
    for (const value of rows.length === 0 ? [] : [`'{}'`, `"snapshot" || '{"shop": {"name": "forged"}}'`]) {
      const forged = `update "${name}" set "snapshot" = ${value} where "snapshot" <> '{}'`;
      await expect(db.pool.query(forged), name).rejects.toMatchObject({ code: 'HU001' });
    }
  },
);

test('the price of what was shipped could be changed in the database', async () => {
  for (const statement of [
    'update "order_line" set "totalPrice" = 1',
    'update "order_line" set "quantity" = "quantity" + 1',
    'delete from "order_line"',
  ])
    await expect(db.pool.query(statement), statement).rejects.toMatchObject({ code: 'HU001' });
  await db.pool.query('update "order_line" set "notes" = "notes"');
});

/** Endpoints that replace something which is the record itself, a draft of it, or somebody's own: no master of others. */
const noMasters = new Set([
  ...[
    '/me/preferences',
    '/me/password',
    '/me/pin',
    '/me/reminders',
    '/me/kept-forms',
    '/me/passkeys/:id',
    '/me/authenticator-app',
  ],
  '/invoices/:id',
  ...[
    '/sign-in-rules',
    '/billing-details',
    '/approval-rules',
    '/colour-rule',
    '/competence-rule',
    '/number-series/:kind',
    '/steps/:id/draft',
    '/instruments/:id/places',
  ],
  ...[
    '/enquiries/:id',
    '/quotations/:id',
    '/recipe-revisions/:id',
    '/recipe-revisions/:id/provenance',
    '/coupon-series/:id',
    '/exposure-tests/:id',
    '/calibrations/:id',
    '/methods/:id',
    '/colour-standard-revisions/:id',
  ],
  ...['/orders/:id', '/order-lines/:id', '/order-lines/:id/receipt'],
  ...['/baths/:id/setup', '/tanks/:id/bath-chart/baseline', '/parts/:id/inspection-plan'],
]);
test('every endpoint that replaces a record is edited below, or said to be no master', () => {
  const known = [...Object.keys(record.masters), ...noMasters].sort();
  expect([...updatePaths].sort()).toEqual(known);
});

test('nothing issued shows another word after every master record was edited', async () => {
  const before = await record.shown();
  for (const [path, keys] of Object.entries(record.masters as Masters)) {
    const changed = new Set<string>();
    for (const key of keys) for (const field of await edit(owner, { path, key })) changed.add(field);
    if (path !== '/parts/:id') expect(changed.size, path).toBeGreaterThan(0);
  }
  const after = await record.shown();
  for (const [address, bytes] of Object.entries(before)) expect(after[address], address).toBe(bytes);
}, 120_000);

test('no order of edits, and nothing issued between them, changes what was issued', async () => {
  const rows = Object.entries(record.masters as Masters).flatMap(([path, keys]) =>
    keys.map((key) => ({ path, key })),
  );
  const edits = fc.record({
    row: fc.constantFrom(...rows),
    mask: fc.integer({ min: 1, max: 0xffff }),
    salt: fc.stringMatching(/^[A-Za-z0-9äß]{1,6}$/),
    issuesThen: fc.integer({ min: 0, max: 7 }).map((one) => one === 0),
  });
  // A list holds what is issued meanwhile; each record on its own is watched.
  const watched = new Map(Object.entries(await record.shown()).filter(([address]) => /\d/.test(address)));
  await fc.assert(
    fc.asyncProperty(fc.array(edits, { minLength: 1, maxLength: 6 }), async (sequence) => {
      for (const { row, mask, salt, issuesThen } of sequence) {
        await edit(owner, row, { chooses: (index) => ((mask >> (index % 16)) & 1) === 1, salt });
        if (!issuesThen) continue;
        const issued = await record.shown(await record.issueAgain());
        for (const [address, bytes] of Object.entries(issued)) watched.set(address, bytes);
      }
      const after = await record.shown([...watched.keys()]);
      for (const [address, bytes] of watched) expect(after[address], address).toBe(bytes);
    }),
    { numRuns: 10, seed: 20261129, endOnFailure: true, interruptAfterTimeLimit: 25_000 },
  );
}, 120_000);
