import type { AnalysisSheet, BathLife, BathPage, BathSummary, listBathBoard } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import type { SqlExecutor } from '../../db/client.ts';
import { decodeCursor, toPage } from '../../kernel/cursor.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { bathUsageCosts, readAdditions, summaryFor, toSummary } from '../additions/index.ts';
import {
  analysisBackground,
  readAnalyses,
  readLastMethodCode,
  readSamplePoints,
  toSummaries,
} from '../analyses/index.ts';
import {
  type BathStanding,
  readBath,
  readHolds,
  readUse,
  readBathStatuses,
  toBath,
  toHold,
} from '../baths/index.ts';
import { readInstruments, toInstrument } from '../instruments/index.ts';
import { readMethods, readTitrants, toMethod, toTitrant } from '../methods/index.ts';
import * as queries from './board-queries.ts';

const DAY = 86_400_000;
/** So many fills are judged at once, and so many for one page: a filter by state never reads the whole house. */
const atOnce = 200;
const MAX_MONITORED = 1000;
const shown = 10;

/**
 * The wet lab's board. A filter by state judges fill after fill until the page is full; where few are in that state, a
 * page is short and the next goes on behind the last fill that was looked at.
 */
export async function viewBoard(execute: SqlExecutor, query: z.output<typeof listBathBoard.query>) {
  const { fills = 'open', state, after, limit = 50, ...asked } = query;
  const [lineOrder, code, id] = decodeCursor(after, ['number', 'string', 'number']) ?? [];
  let start =
    typeof lineOrder === 'number' && typeof code === 'string' && typeof id === 'number'
      ? { lineOrder: within(lineOrder), code, id: within(id) }
      : null;
  const size = state === undefined ? limit : atOnce;
  const found: Judged[] = [];
  for (let judged = size; ; judged += size) {
    const rows = await queries.readBoard(execute, { ...asked, fills, after: start, limit: size });
    const { items, next } = toPage({ rows, limit: size, cursorOf });
    const standing = await readBathStatuses(execute, items);
    for (const row of items) {
      const its = standing.get(row.id);
      if (its !== undefined && (state === undefined || its.status.state === state)) found.push({ row, its });
    }
    if (found.length > limit) {
      const page = toPage({ rows: found, limit, cursorOf: ({ row }) => cursorOf(row) });
      return { items: page.items.map(toSummaryOf), next: page.next };
    }
    const last = items.at(-1);
    const isDone = state === undefined || judged >= MAX_MONITORED;
    if (isDone || next === null || last === undefined) return { items: found.map(toSummaryOf), next };
    start = { lineOrder: last.lineOrder, code: last.tank.code, id: last.id };
  }
}
interface Judged {
  row: queries.BoardRow;
  its: BathStanding;
}
const cursorOf = (row: queries.BoardRow) => [row.lineOrder, row.tank.code, row.id] as const;
const within = (value: number) => Math.trunc(Math.min(Math.max(value, 0), 2_147_483_647));

function toSummaryOf({ row, its }: Judged): BathSummary {
  return {
    ...row,
    madeUpAt: row.madeUpAt.toISOString(),
    dumpedAt: row.dumpedAt?.toISOString() ?? null,
    lastAnalysedAt: row.lastAnalysedAt?.toISOString() ?? null,
    status: its.status,
    latest: its.latest,
  };
}

/** Everything the page of a bath shows. */
export async function viewBath(
  execute: SqlExecutor,
  { actor, id }: { actor: Actor; id: number },
): Promise<BathPage> {
  const bath = orNotFound(await readBath(execute, id), `bath ${id}`);
  const standing = orNotFound((await readBathStatuses(execute, [bath])).get(id), `bath ${id}`);
  const analyses = await readAnalyses(execute, { bathId: id, before: null, limit: shown - 1 });
  const additions = await readAdditions(execute, { bathId: id, before: null, limit: shown - 1 });
  const others = await queries.readOtherFills(execute, { tankId: bath.tankId, bathId: id });
  const lastHolds = await readHolds(execute, { bathId: id, before: null, limit: shown - 1 });
  return {
    ...standing,
    // Nothing falls due in a bath that is gone.
    status: bath.dumpedAt === null ? standing.status : { ...standing.status, nextDueAt: null },
    holds: [...standing.holds, ...lastHolds.filter(({ releasedAt }) => releasedAt !== null).map(toHold)],
    bath: toBath(bath),
    tankName: await queries.readTankName(execute, id),
    analyses: await toSummaries(execute, analyses),
    additions: additions.map((row) => summaryFor(actor, toSummary(row))),
    life: bathUsageCosts(
      actor,
      await lifeOf(execute, { id, madeUpAt: bath.madeUpAt, dumpedAt: bath.dumpedAt, standing }),
    ),
    otherFills: others.map((fill) => ({
      ...fill,
      madeUpAt: fill.madeUpAt.toISOString(),
      dumpedAt: fill.dumpedAt?.toISOString() ?? null,
    })),
  };
}

async function lifeOf(
  execute: SqlExecutor,
  {
    id,
    dumpedAt,
    madeUpAt,
    standing,
  }: { id: number; madeUpAt: Date; dumpedAt: Date | null; standing: BathStanding },
): Promise<BathLife> {
  const [use = { loads: 0, areaM2: 0, ampereHours: 0 }] = await readUse(execute, [
    { bathId: id, since: null },
  ]);
  const book = await queries.readBook(execute, id);
  const until = (dumpedAt ?? new Date()).getTime();
  return {
    days: Math.max(0, (until - madeUpAt.getTime()) / DAY),
    ...use,
    ...book,
    dragOutL: use.areaM2 * (standing.setup?.dragOutLPerM2 ?? 0),
  };
}

/** All that entering an analysis of a bath needs. */
export async function viewAnalysisSheet(execute: SqlExecutor, id: number): Promise<AnalysisSheet> {
  const bath = orNotFound(await readBath(execute, id), `bath ${id}`);
  const { setup, requests, latest } = orNotFound(
    (await readBathStatuses(execute, [bath])).get(id),
    `bath ${id}`,
  );
  const all = { after: null, limit: 500 };
  return {
    bath: toBath(bath),
    setup,
    requests,
    latest,
    background: await analysisBackground(execute, { bath, setup, sampledAt: new Date(), correctsId: null }),
    methods: (await readMethods(execute, { status: 'in-force', ...all })).map(toMethod),
    titrants: (await readTitrants(execute, { finished: 'no', ...all })).map(toTitrant),
    instruments: (await readInstruments(execute, all)).map(toInstrument),
    samplePoints: await readSamplePoints(execute, id),
    lastMethodCode: await readLastMethodCode(execute, id),
  };
}
