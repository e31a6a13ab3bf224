import type pg from 'pg';
import { stepQuantities } from '@huelot/contracts';
import { seededRandom } from '../../../apps/api/src/demo/chance.ts';
import type { SqlExecutor } from '../../../apps/api/src/db/client.ts';
import type { TraceAsked } from '../../../apps/api/src/workspace/trace/find-queries.ts';
import { findSignOffs } from '../../../apps/api/src/workspace/trace/find.ts';
import { readHits } from '../../../apps/api/src/workspace/trace/search-queries.ts';
import { searchPlainly } from './plain-trace.ts';

/** Searches of any kind, drawn from what the shop has: some common, some rare, some of what was never done. */
export async function drawSearches(client: pg.ClientBase, count: number): Promise<TraceAsked[]> {
  const chance = seededRandom(1000);
  const column = async (statement: string) =>
    (await client.query<{ it: never }>(statement)).rows.map(({ it }) => it as number | string);
  const keys = {
    partId: await column(`select distinct "partId" as it from "step_sign_off" order by 1 limit 200`),
    customerId: await column(`select "id" as it from "customer" order by 1 limit 100`),
    materialId: await column(`select distinct "materialId" as it from "step_sign_off" order by 1`),
    recipeId: await column(`select "id" as it from "recipe" order by 1 limit 60`),
    tankId: await column(`select "id" as it from "tank" order by 1`),
    bathId: await column(`select "id" as it from "bath" order by 1 limit 300`),
    supplyId: await column(`select "id" as it from "power_supply" union select 999 order by 1`),
    personId: await column(`select "id" as it from "person" order by 1`),
    stepKind: await column(
      `select distinct "stepKind" as it from "step_sign_off" union select 'mask' order by 1`,
    ),
  };
  const figures = (
    await client.query<{ quantity: string; values: number[] }>(
      `
      select q as "quantity", array(select "value" from "step_reading" where "quantity" = q order by md5("id"::text) limit 200) as "values"
        from unnest($1::text[]) q`,
      [Object.keys(stepQuantities)],
    )
  ).rows;
  const days = await column(`
    select to_char(min("doneAt") + n * (max("doneAt") - min("doneAt")) / 40, 'YYYY-MM-DD') as it
      from "step_sign_off", generate_series(0, 40) n group by n order by n`);
  const range = () => {
    const { quantity, values } = chance.one(figures);
    const about = values.length === 0 ? 5 : chance.one(values);
    const width = Math.abs(about) * chance.one([0, 0.001, 0.01, 0.1, 1]);
    return {
      quantity,
      min: chance.happens(0.2) ? null : about - width,
      max: chance.happens(0.2) ? null : about + width,
    };
  };
  return Array.from({ length: count }, () => {
    const asked: TraceAsked = {
      ranges: Array.from({ length: chance.one([0, 0, 1, 1, 2, 3]) }, range),
      timeZone: 'Europe/Berlin',
      after: null,
      limit: chance.one([1, 7, 50]),
    };
    for (const [name, values] of Object.entries(keys))
      if (chance.happens(0.15)) Object.assign(asked, { [name]: chance.one(values) });
    if (chance.happens(0.1)) asked.outside = chance.one(['yes', 'no'] as const);
    if (chance.happens(0.2)) asked.from = String(chance.one(days));
    if (chance.happens(0.2)) asked.to = String(chance.one(days));
    return asked;
  });
}

/** The searches that the service answers otherwise than the plain statement, pages after the first looked at too. */
export async function findDifferences(
  execute: SqlExecutor,
  { searches, bounds }: { searches: readonly TraceAsked[]; bounds?: { rare: number; window: number } },
): Promise<{ differing: string[]; found: number }> {
  const differing: string[] = [];
  let found = 0;
  for (const first of searches) {
    let asked = first;
    for (let page = 0; page < 2; page += 1) {
      const meant = await searchPlainly(execute, asked);
      const answered = await readHits(execute, await findSignOffs(execute, asked, bounds));
      found += meant.length;
      if (JSON.stringify(meant) !== JSON.stringify(answered)) differing.push(JSON.stringify(asked));
      const last = meant[asked.limit - 1];
      if (last === undefined || meant.length <= asked.limit) break;
      asked = { ...asked, after: { doneAt: last.doneAt, id: last.signOffId } };
    }
  }
  return { differing, found };
}
