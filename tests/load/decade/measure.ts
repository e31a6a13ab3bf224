import type { FastifyInstance } from 'fastify';
import type pg from 'pg';
import { plannedAnewMark } from '../../../apps/api/src/db/preparing-client.ts';
import { statementsOf } from '../statements.ts';
import type { Question } from './questions.ts';

/** Tables that grow with the work: to read one through is to read the years. */
export const bigTables = [
  ...[
    'lot',
    'step_sign_off',
    'step_reading',
    'traveler',
    'traveler_step',
    'final_check',
    'lot_hold',
    'shipment',
  ],
  ...[
    'audit_entry',
    'quotation',
    'quotation_revision',
    'quotation_line',
    'customer_order',
    'order_line',
    'analysis',
    'analysis_result',
  ],
] as const;

interface Sent {
  text: string;
  values: unknown[];
}
export interface Measured {
  name: string;
  p50Ms: number;
  p95Ms: number;
  bytes: number;
  statements: number;
  /** Pages of 8 kB that its statements touched: the same whatever else the machine does. */
  pages: number;
  /** Its own statements through bare pg, and the one by hand. */
  ownMs: number;
  handMs: number | null;
  handPages: number | null;
  /** Whether the one by hand has the same keys; null without one. */
  same: boolean | null;
  scans: string[];
  /** Why the answer itself grows, where it does. */
  grows: string | null;
}

const MAX_ASKS = 15;
const ENOUGH_MS = 2_500;
const quantile = (sorted: readonly number[], share: number) =>
  sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? NaN;

export const isRead = ({ text }: Sent) =>
  /^\s*(\/\*.*?\*\/\s*)?(select|with)\b/i.test(text) && !/for update/i.test(text);

/** What one request sends, those statements left out that every request sends to know who asks. */
export async function ownStatements(
  work: () => Promise<unknown>,
  shared: ReadonlySet<string>,
): Promise<Sent[]> {
  const sent = (await statementsOf(work)).flatMap(([first]) =>
    typeof first === 'object' && first !== null && 'text' in first
      ? [{ text: String(first.text), values: 'values' in first ? (first.values as unknown[]) : [] }]
      : [],
  );
  return sent.filter((one) => isRead(one) && !shared.has(one.text));
}

/** Asks one question until its time is known, and looks at what its statements read. */
export async function measure(
  {
    app,
    client,
    cookie,
    shared,
  }: { app: FastifyInstance; client: pg.Client; cookie: string; shared: ReadonlySet<string> },
  { name, path, byHand, grows }: Question,
): Promise<Measured> {
  const ask = async () => {
    const answer = await app.inject({ url: `/api${path}`, headers: { cookie } });
    if (answer.statusCode !== 200)
      throw new Error(`${path}: ${answer.statusCode} ${answer.body.slice(0, 300)}`);
    return answer.body;
  };
  const body = await ask();
  const own = await ownStatements(ask, shared);
  const times = await repeat(ask);
  const { pages, scans } = await readPlans(client, own);
  const ownTimes = await repeat(async () => {
    for (const one of own)
      await client.query(one.text.startsWith(plannedAnewMark) ? one : { ...one, name: nameOf(one.text) });
  });
  const hand =
    byHand === undefined ? null : await repeat(() => client.query({ ...byHand, name: nameOf(byHand.text) }));
  return {
    ...{
      name,
      grows: grows ?? null,
      p50Ms: quantile(times, 0.5),
      p95Ms: quantile(times, 0.95),
      bytes: body.length,
    },
    ...{ statements: own.length, pages, scans, ownMs: quantile(ownTimes, 0.5) },
    handMs: hand === null ? null : quantile(hand, 0.5),
    handPages: byHand === undefined ? null : (await readPlans(client, [byHand])).pages,
    same: byHand === undefined ? null : isSame(body, (await client.query<{ id: number }>(byHand)).rows),
  };
}

const keys = new Map<string, string>();
const nameOf = (text: string) => keys.get(text) ?? keys.set(text, `bench${keys.size}`).get(text) ?? '';

async function repeat(work: () => Promise<unknown>): Promise<number[]> {
  const times: number[] = [];
  const until = performance.now() + ENOUGH_MS;
  await work(); // Warms it up.
  do {
    const began = performance.now();
    await work();
    times.push(performance.now() - began);
  } while (times.length < MAX_ASKS && performance.now() < until);
  return times.sort((one, other) => one - other);
}

interface Plan {
  'Node Type': string;
  'Relation Name'?: string;
  'Actual Rows'?: number;
  'Actual Loops'?: number;
  'Rows Removed by Filter'?: number;
  'Shared Hit Blocks': number;
  'Shared Read Blocks': number;
  Plans?: Plan[];
}

/** The pages that statements touch, and the big tables that they read from end to end. */
export async function readPlans(
  client: pg.ClientBase,
  statements: readonly Sent[],
): Promise<{ pages: number; scans: string[] }> {
  let pages = 0;
  const scans = new Set<string>();
  for (const { text, values } of statements) {
    const { rows } = await client.query<{ 'QUERY PLAN': [{ Plan: Plan }] }>({
      text: `explain (analyze, buffers, timing off, format json) ${text}`,
      values,
    });
    const plan = rows[0]?.['QUERY PLAN'][0].Plan;
    if (plan === undefined) continue;
    pages += plan['Shared Hit Blocks'] + plan['Shared Read Blocks'];
    visit(plan, (node) => {
      const table = node['Relation Name'];
      if (
        node['Node Type'] === 'Seq Scan' &&
        (node['Actual Loops'] ?? 0) > 0 &&
        bigTables.some((big) => big === table)
      )
        scans.add(table ?? '');
    });
  }
  return { pages, scans: [...scans].sort() };
}

/** The big tables that the plans of statements would read from end to end, without running them. */
export async function readScans(client: pg.ClientBase, statements: readonly Sent[]): Promise<string[]> {
  const scans = new Set<string>();
  for (const { text, values } of statements) {
    const { rows } = await client.query<{ 'QUERY PLAN': [{ Plan: Plan }] }>({
      text: `explain (format json) ${text}`,
      values,
    });
    const plan = rows[0]?.['QUERY PLAN'][0].Plan;
    if (plan !== undefined)
      visit(plan, (node) => {
        const table = node['Relation Name'];
        if (node['Node Type'] === 'Seq Scan' && bigTables.some((big) => big === table))
          scans.add(table ?? '');
      });
  }
  return [...scans].sort();
}

function visit(plan: Plan, look: (plan: Plan) => void): void {
  look(plan);
  for (const inner of plan.Plans ?? []) visit(inner, look);
}

interface Keyed {
  id?: number;
  signOffId?: number;
}

/** Whether a reply names the records that the statement by hand found, in the same order. */
function isSame(body: string, rows: readonly { id: number }[]): boolean {
  const reply = JSON.parse(body) as Keyed & { items?: Keyed[] };
  const items: Keyed[] = reply.items ?? [reply];
  const found = rows.slice(0, Math.max(items.length, rows.length > 50 ? 50 : rows.length));
  return (
    items.length === found.length &&
    items.every((item, index) => String(item.signOffId ?? item.id) === String(found[index]?.id))
  );
}
