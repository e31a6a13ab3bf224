import type pg from 'pg';
import { copied, isMoved, numbered, patterns } from './copied.ts';
import { keyIn, readShape, type Column, type Shape } from './shape.ts';

/** How much a shop does, and for how many years there must be room. */
export interface Size {
  lotsPerYear: number;
  customersPerYear: number;
  partsPerYear: number;
  recipesPerYear: number;
  /** The most that it is ever grown to. */
  years: number;
}

export interface Growth {
  /** Puts the work of earlier years before what is there, up to `years` in all; returns how many copies of today that took. */
  growTo(years: number): Promise<number>;
}

const YEAR_DAYS = 365.25;
/** How long a fill of the baths lasts in the years gone by. */
const FILL_DAYS = 13;
const columnsOf = (columns: readonly Column[]) => columns.map(({ name }) => `"${name}"`).join(', ');

/**
 * Makes the past of a shop out of its present, in SQL, seeded: what is over today was done again and again in the years
 * before, by more customers, on more parts, in bath after bath. Call it as the owner of a database that nobody else
 * uses: triggers and foreign keys are off while it writes, and `recheck` looks at afterwards what they guard.
 */
export async function startGrowth(client: pg.ClientBase, size: Size): Promise<Growth> {
  await client.query(`set session_replication_role = 'replica'`);
  await client.query(`select setseed(0.4070)`);
  const shape = await readShape(client);
  const { start, days, lots } = await readPresent(client);
  await choosePatterns(client, shape);
  const perLots = Math.max(1, lots);
  const room = {
    work: Math.ceil((size.years * size.lotsPerYear) / perLots) + 1,
    fill: fillsIn(size.years, days) + 1,
  };
  await moveUp(client, shape, room);
  await client.query(`
    create temporary table growth ("group" text, copy int, customer int, recipe int, part int, fill int, work int,
      shift interval, start timestamptz, pace float8)`);
  const had = { customer: 0, recipe: 0, part: 0, fill: 0, work: 0 };
  const patternsOf = (table: string) =>
    client
      .query<{ n: number }>(`select count(*)::int as n from pattern where "table" = $1`, [table])
      .then(({ rows }) => Math.max(1, rows[0]?.n ?? 0));
  const each = {
    customer: size.customersPerYear / (await patternsOf('customer')),
    recipe: size.recipesPerYear / (await patternsOf('recipe')),
    part: size.partsPerYear / (await patternsOf('part')),
  };
  return {
    growTo: async (years) => {
      const upTo = {
        customer: Math.ceil(years * each.customer),
        recipe: Math.ceil(years * each.recipe),
        part: Math.ceil(years * each.part),
        fill: fillsIn(years, days),
        work: Math.ceil((years * size.lotsPerYear) / perLots),
      };
      const everyDays = (years * YEAR_DAYS) / upTo.work;
      for (const group of ['customer', 'recipe', 'part', 'fill', 'work'] as const)
        await client.query(
          `insert into growth
           select $1::text, n, case $1 when 'part' then n % ($4::int + 1) when 'work' then coalesce(p.customer, 0) else n end,
                  case $1 when 'part' then n % ($5::int + 1) when 'work' then coalesce(p.recipe, 0) else n end,
                  case $1 when 'work' then coalesce(p.copy, 0) else n end, n, n,
                  case $1 when 'work' then make_interval(secs => ($7::float8 + (n - 1) * $8::float8 + random() / 2) * 86400)
                          when 'fill' then make_interval(secs => n * $9::float8 * 86400)
                          else make_interval(days => $10::int) end, $11::timestamptz, $9::float8 / $7::float8
             from generate_series($2::int, $3::int) n
             left join growth p on $1 = 'work' and p."group" = 'part' and p.copy = n % ($6::int + 1)`,
          [
            ...[group, had[group] + 1, upTo[group], upTo.customer, upTo.recipe, upTo.part],
            ...[days, everyDays, FILL_DAYS, Math.ceil(size.years * YEAR_DAYS), start],
          ],
        );
      await withoutIndexes(client, async () => {
        for (const table of Object.keys(copied)) await copy(client, shape, { table, had });
      });
      Object.assign(had, upTo);
      await client.query('delete from growth where "group" in ($$fill$$, $$work$$)');
      await setCounters(client, shape);
      return upTo.work;
    },
  };
}

/** Fills of a bath before the present: the oldest piece of work is as long as the present is. */
const fillsIn = (years: number, days: number) => Math.ceil((years * YEAR_DAYS + days) / FILL_DAYS) + 1;

/** When the present began, how many days it has, and how many lots of it are over. */
async function readPresent(client: pg.ClientBase): Promise<{ start: Date; days: number; lots: number }> {
  const { rows } = await client.query<{ start: Date; days: number; lots: number }>(`
    select x.start, extract(epoch from now() - x.start)::float8 / 86400 as days,
           (select count(*)::int from "lot" t where ${patterns['lot'] ?? 'true'}) as lots
      from (select least(min("madeUpAt"), now() - interval '1 day') as start from "bath") x`);
  if (rows[0] === undefined) throw new Error('the database has no clock');
  return rows[0];
}

/** Which rows are copied: those of the rule of their table that refer to nothing of their own group that is not. */
async function choosePatterns(client: pg.ClientBase, shape: Shape): Promise<void> {
  await client.query('create temporary table pattern ("table" text, id bigint, primary key ("table", id))');
  const chosen = new Set<string>();
  for (const [table, group] of Object.entries(copied)) {
    const parents = shape
      .columnsOf(table)
      .filter(({ refersTo }) => refersTo !== null && copied[refersTo] === group && chosen.has(refersTo))
      .map(
        ({ name, refersTo }) =>
          `(t."${name}" is null or exists (select from pattern p where p."table" = '${refersTo}' and p.id = t."${name}"))`,
      );
    const audited =
      table === 'audit_entry'
        ? [
            `exists (select from pattern p where p.id = t."recordId" and p."table" = case t."recordKind" ${tableOfKind} end)`,
          ]
        : [];
    const rules = [patterns[table] ?? 'true', ...parents, ...audited].join(' and ');
    await client.query(`insert into pattern select '${table}', t."id" from "${table}" t where ${rules}`);
    chosen.add(table);
  }
  await client.query('analyze pattern');
}

const tableOfKind = Object.entries(numbered)
  .map(([kind, table]) => `when '${kind}' then '${table}'`)
  .join(' ');

/** Gives the present the highest keys and numbers, so that whatever is newest is found last, as in a shop that grew. */
async function moveUp(
  client: pg.ClientBase,
  shape: Shape,
  room: { work: number; fill: number },
): Promise<void> {
  const up = `(select -${room.work} as work, -${room.fill} as fill, 0 as customer, 0 as recipe, 0 as part) c`;
  for (const table of shape.tables) {
    const group = shape.groupOf(table);
    const moved = shape.columnsOf(table).flatMap((column) => {
      const value =
        column.name === 'id' && group !== undefined
          ? keyIn(shape, { table, value: 't."id"' })
          : movedValue(shape, { table, column });
      return value === null ? [] : [`"${column.name}" = ${value}`];
    });
    if (moved.length > 0)
      await client.query(
        // Keys are moved beyond all that there are, so that none meets another on its way.
        `update "${table}" t set ${moved.join(', ')} from ${up}`,
      );
  }
  for (const [table, group] of Object.entries(copied))
    if (isMoved(group))
      await client.query('update pattern set id = id + $2::bigint where "table" = $1', [
        table,
        room[group as 'work' | 'fill'] * shape.stride(table),
      ]);
  await client.query('delete from "chain_queue"');
}

function movedValue(shape: Shape, { table, column }: { table: string; column: Column }): string | null {
  const { name, refersTo } = column;
  if (refersTo !== null && isMoved(copied[refersTo] ?? 'part'))
    return keyIn(shape, { table: refersTo, value: `t."${name}"` });
  if (table === 'audit_entry' && name === 'recordId') return auditedKey(shape);
  if (table === 'audit_entry' && name === 'recordNumber') return auditedNumber(shape);
  if (name === 'number' && isNumbered(table)) return numberIn(shape, { table, value: 't."number"' });
  return null;
}
const isNumbered = (table: string) => Object.values(numbered).includes(table);

/** A number of the shop's series in another copy. */
const numberIn = (shape: Shape, { table, value }: { table: string; value: string }) =>
  `(select regexp_replace(${value}, '\\d+$', '') || lpad(n, greatest(5, length(n)), '0')
      from (select (${keyIn(shape, { table, value: `substring(${value} from '\\d+$')::int` })})::text) x (n))`;
const auditedKey = (shape: Shape) =>
  `case t."recordKind" ${Object.entries(numbered)
    .map(([kind, table]) => `when '${kind}' then ${keyIn(shape, { table, value: 't."recordId"' })}`)
    .join(' ')} else t."recordId" end`;
const auditedNumber = (shape: Shape) =>
  `case when t."recordNumber" ~ '^[A-Z]+-\\d+$' then case t."recordKind" ${Object.entries(numbered)
    .map(([kind, table]) => `when '${kind}' then ${numberIn(shape, { table, value: 't."recordNumber"' })}`)
    .join(' ')} else t."recordNumber" end else t."recordNumber" end`;

/** What a column of an older row holds, where it is not what it held today. */
const written: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  // Invented: a syllable of eight before a syllable of six, and a number where both were used up.
  customer: {
    name: `(array['Alder','Birch','Cedar','Ember','Fenn','Juniper','Larch','Rowan'])[1 + c.copy % 8] || (array['croft','dale','field','hurst','mere','wick'])[1 + c.copy / 8 % 6] || ' ' || c.copy || ' ' || t."name"`,
    mergedIntoId: 'null',
  },
  recipe: { name: `t."name" || ' ' || c.copy` },
  part: { number: `t."number" || '-' || c.copy`, colourStandardId: 'null' },
  bath: {
    dumpedAt: `c.start - c.shift + make_interval(days => ${FILL_DAYS})`,
    dumpedById: `coalesce(t."dumpedById", t."madeUpById")`,
    dumpReason: `'worn out'`,
    snapshot: `t."snapshot" || jsonb_build_object('tank', snapshot_of('tank', t."tankId"), 'dumpedBy', t."snapshot" -> 'madeUpBy')`,
  },
  chemical_lot: { supplierLot: `t."supplierLot" || '-' || c.copy`, status: `'finished'` },
  // Around what was read, and never beyond a limit that it kept; the middle of three throws makes the ends rare.
  step_reading: {
    value: `case when t."outside" then t."value" else least(coalesce(t."high", 'infinity'), greatest(coalesce(t."low", '-infinity'),
      t."value" * (1 + 0.08 * (random() + random() + random() - 1.5)))) end`,
  },
};

function valueIn(shape: Shape, { table, column }: { table: string; column: Column }): string {
  const { name, type, refersTo } = column;
  const own = written[table]?.[name];
  if (own !== undefined) return own;
  if (name === 'id') return keyIn(shape, { table, value: 't."id"' });
  // A step was done in the fill that stood at the time.
  if (table === 'step_sign_off' && name === 'bathId')
    return `(t."bathId" - greatest(1, ceil(extract(epoch from c.start - (t."doneAt" - c.shift)) / ${FILL_DAYS * 86_400}))::int * ${shape.stride('bath')})`;
  if (refersTo !== null) return keyIn(shape, { table: refersTo, value: `t."${name}"` });
  if (table === 'audit_entry' && name === 'recordId') return auditedKey(shape);
  if (table === 'audit_entry' && name === 'recordNumber') return auditedNumber(shape);
  if (name === 'number' && isNumbered(table)) return numberIn(shape, { table, value: 't."number"' });
  if (type.startsWith('timestamp')) {
    // What happened in the weeks of a fill is drawn together into its thirteen days.
    return shape.groupOf(table) === 'fill'
      ? `(c.start - c.shift + (t."${name}" - c.start) * c.pace)`
      : `(t."${name}" - c.shift)`;
  }
  return type === 'date' ? `(t."${name}" - c.shift)::date` : `t."${name}"`;
}

async function copy(
  client: pg.ClientBase,
  shape: Shape,
  { table, had }: { table: string; had: Readonly<Record<string, number>> },
): Promise<void> {
  const group = shape.groupOf(table) ?? 'work';
  const columns = shape.columnsOf(table);
  await client.query(
    `insert into "${table}" (${columnsOf(columns)})
     select ${columns.map((column) => valueIn(shape, { table, column })).join(', ')}
       from (select * from growth where "group" = $1 and copy > $2 order by copy desc offset 0) c
      cross join lateral (
        select t.* from pattern p join "${table}" t on t."id" = p.id where p."table" = $3 and c.copy > 0 offset 0) t`,
    [group, had[group] ?? 0, table],
  );
}

/** Writes without the indexes that keep no rule, and makes them again: in one go, and not row by row. */
async function withoutIndexes(client: pg.ClientBase, work: () => Promise<void>): Promise<void> {
  const { rows } = await client.query<{ name: string; definition: string }>(
    `select i.indexrelid::regclass::text as name, pg_get_indexdef(i.indexrelid) as definition
       from pg_index i where not i.indisunique and i.indrelid::regclass::text = any($1)`,
    [Object.keys(copied)],
  );
  for (const { name } of rows) await client.query(`drop index ${name}`);
  await work();
  for (const { definition } of rows) await client.query(definition);
}

/** The next key and number of each table come after all that there are. */
async function setCounters(client: pg.ClientBase, shape: Shape): Promise<void> {
  for (const table of Object.keys(copied))
    await client.query(
      `select setval(pg_get_serial_sequence('"${table}"', 'id'), (select max("id") + 1 from "${table}"), false) where exists (select from "${table}")`,
    );
  for (const [kind, table] of Object.entries(numbered))
    if (shape.columnsOf(table).some(({ name }) => name === 'number'))
      await client.query(
        `update "number_series" set "next" = greatest("next", (select coalesce(max(substring("number" from '\\d+$')::int), 0) + 1 from "${table}")) where "kind" = $1`,
        [kind],
      );
}
