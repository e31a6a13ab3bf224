import type { AnalysisRequest, BathSetup } from '@huelot/contracts';
import { sql, type SqlExecutor } from '../../db/client.ts';

/** What a revision of a setup holds beside who set it. */
export type StoredSetup = Omit<BathSetup, 'revision' | 'reason' | 'setBy' | 'setAt'>;

interface SetupRow {
  bathId: number;
  revision: number;
  setup: StoredSetup;
  reason: string;
  setBy: string;
  setAt: Date;
}
const toSetup = ({ setup, setAt, bathId: _, ...row }: SetupRow): BathSetup => ({
  ...setup,
  ...row,
  setAt: setAt.toISOString(),
});
const setups = sql`
  select s."bathId", s."revision", s."setup", s."reason", s."snapshot" ->> 'setBy' as "setBy", s."setAt"
    from "bath_setup" s`;

/** The setups in force, by bath; a bath that is not watched has none. */
export async function readSetupsOf(
  execute: SqlExecutor,
  bathIds: readonly number[],
): Promise<Map<number, BathSetup>> {
  const rows = await execute<SetupRow>(sql`
    ${setups} where s."bathId" = any(${[...bathIds]})
       and s."revision" = (select max(x."revision") from "bath_setup" x where x."bathId" = s."bathId")`);
  return new Map(rows.map((row) => [row.bathId, toSetup(row)]));
}
/** One revision, as it was in force for an analysis. */
export async function readSetupRevision(
  execute: SqlExecutor,
  { bathId, revision }: { bathId: number; revision: number | null },
): Promise<BathSetup | null> {
  const [row] = await execute<SetupRow>(
    sql`${setups} where s."bathId" = ${bathId} and s."revision" = ${revision}::int`,
  );
  return row === undefined ? null : toSetup(row);
}
export const readSetupHistory = async (execute: SqlExecutor, bathId: number): Promise<BathSetup[]> =>
  (
    await execute<SetupRow>(sql`${setups} where s."bathId" = ${bathId} order by s."revision" desc limit 500`)
  ).map(toSetup);

export const addSetup = (
  execute: SqlExecutor,
  {
    bathId,
    revision,
    setup,
    reason,
    setById,
  }: { bathId: number; revision: number; setup: StoredSetup; reason: string; setById: number },
) =>
  execute(sql`
    insert into "bath_setup" ("bathId", "revision", "setup", "reason", "setById")
    values (${bathId}, ${revision}, ${JSON.stringify(setup)}::jsonb, ${reason}, ${setById})`);
/** The setup that the fill before this one ended with; null where it held something else or was not watched. */
export async function readSetupBefore(execute: SqlExecutor, bathId: number): Promise<StoredSetup | null> {
  const [row] = await execute<{ setup: StoredSetup }>(sql`
    select s."setup" from "bath" me
      join lateral (select b."id" from "bath" b where b."tankId" = me."tankId" and b."contents" = me."contents" and b."id" < me."id"
                     order by b."id" desc limit 1) b on true
      join "bath_setup" s on s."bathId" = b."id"
     where me."id" = ${bathId} order by s."revision" desc limit 1`);
  return row?.setup ?? null;
}
export const readMethodIds = (execute: SqlExecutor, ids: readonly number[]) =>
  execute<{ id: number }>(sql`select "id" from "analysis_method" where "id" = any(${[...ids]})`);

interface RequestRow extends Omit<AnalysisRequest, 'dueAt' | 'askedAt'> {
  dueAt: Date;
  askedAt: Date;
  closedAt: Date | null;
}
const requests = sql`
  select r."id", r."bathId", r."why", r."components", r."dueAt", r."note", r."snapshot" ->> 'askedBy' as "askedBy", r."askedAt", r."closedAt",
         case when a."id" is null then null else jsonb_build_object('id', a."id", 'number', a."number") end as "addition"
    from "bath_request" r left join "addition" a on a."id" = r."additionId"`;
const toRequest = ({ closedAt: _, ...row }: RequestRow): AnalysisRequest => ({
  ...row,
  dueAt: row.dueAt.toISOString(),
  askedAt: row.askedAt.toISOString(),
});

export const readOpenRequests = async (
  execute: SqlExecutor,
  bathIds: readonly number[],
): Promise<AnalysisRequest[]> =>
  (
    await execute<RequestRow>(
      sql`${requests} where r."bathId" = any(${[...bathIds]}) and r."closedAt" is null order by r."dueAt", r."id"`,
    )
  ).map(toRequest);
export async function readRequest(
  execute: SqlExecutor,
  id: number,
): Promise<{ request: AnalysisRequest; closed: boolean } | null> {
  const [row] = await execute<RequestRow>(sql`${requests} where r."id" = ${id}`);
  return row === undefined ? null : { request: toRequest(row), closed: row.closedAt !== null };
}
export async function addRequest(
  execute: SqlExecutor,
  options: {
    bathId: number;
    why: AnalysisRequest['why'];
    components: string[];
    dueAt: Date;
    additionId: number | null;
    note: string;
    askedById: number;
  },
): Promise<number> {
  const [row] = await execute<{ id: number }>(sql`
    insert into "bath_request" ("bathId", "why", "components", "dueAt", "additionId", "note", "askedById")
    values (${options.bathId}, ${options.why}, ${options.components}, ${options.dueAt}, ${options.additionId}::int, ${options.note}, ${options.askedById})
    returning "id"`);
  if (row === undefined) throw new Error('a request was not written');
  return row.id;
}
export const closeRequest = (
  execute: SqlExecutor,
  { personId, reason, id }: { id: number; personId: number; reason: string },
) =>
  execute(sql`
    update "bath_request" set "closedAt" = now(), "closedById" = ${personId}, "closeReason" = ${reason}
     where "id" = ${id}`);
/** Closes what an analysis answers: requests made before its sample was taken, for nothing else than what it found. */
export const closeAnswered = (
  execute: SqlExecutor,
  {
    personId,
    analysisId,
    bathId,
    components,
    sampledAt,
  }: { bathId: number; analysisId: number; personId: number; sampledAt: Date; components: string[] },
) =>
  execute(sql`
    update "bath_request" r
       set "closedAt" = now(), "closedById" = ${personId}, "closedByAnalysisId" = ${analysisId}
     where r."bathId" = ${bathId} and r."closedAt" is null and r."components" <@ ${components}
       and ${sampledAt} >= coalesce(
         (select a."finishedAt" from "addition" a where a."id" = r."additionId"), date_trunc('minute', r."askedAt"))`);

/** Codes of methods by the key of any of their revisions. */
export async function readMethodCodes(
  execute: SqlExecutor,
  ids: readonly number[],
): Promise<Map<number, string>> {
  if (ids.length === 0) return new Map();
  const rows = await execute<{ id: number; code: string }>(
    sql`select "id", "code" from "analysis_method" where "id" = any(${[...ids]})`,
  );
  return new Map(rows.map(({ id, code }) => [id, code]));
}
