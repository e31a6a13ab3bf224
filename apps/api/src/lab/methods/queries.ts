import type { AnalysisMethod, MethodKind, MethodSettings, MethodStatus, NewMethod } from '@huelot/contracts';
import { Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { containing } from '../../db/lists.ts';

export interface MethodRow {
  id: number;
  code: string;
  revision: number;
  status: MethodStatus;
  name: string;
  kind: MethodKind;
  settings: MethodSettings;
  procedure: string;
  formula: string;
  source: string;
  changeNote: string;
  author: string;
  createdAt: Date;
  inForceSince: Date | null;
  version: number;
}
const methods = sql`
  select m."id", m."code", m."revision", m."status", m."name", m."kind", m."settings", m."procedure", m."formula",
         m."source", m."changeNote", coalesce(m."snapshot" ->> 'author', 'starting methods') as "author", m."createdAt",
         m."inForceSince", m."version"
    from "analysis_method" m`;

export const readMethods = (
  execute: SqlExecutor,
  {
    status,
    search,
    after,
    limit,
  }: {
    search?: string | undefined;
    status: MethodStatus | 'all';
    after: { code: string; revision: number } | null;
    limit: number;
  },
) =>
  execute<MethodRow>(sql`
    ${methods} where true
      ${status === 'all' ? Prisma.empty : sql`and m."status" = ${status}`}
      ${search ? sql`and (m."code" || ' ' || m."name") ilike ${containing(search)}` : Prisma.empty}
      ${after === null ? Prisma.empty : sql`and (m."code", m."revision") > (${after.code}, ${after.revision}::int)`}
     order by m."code", m."revision" limit ${limit + 1}`);
export const readMethod = async (execute: SqlExecutor, id: number): Promise<MethodRow | null> =>
  (await execute<MethodRow>(sql`${methods} where m."id" = ${id}`))[0] ?? null;
export const readRevisions = (execute: SqlExecutor, code: string) =>
  execute<MethodRow>(sql`${methods} where m."code" = ${code} order by m."revision" desc limit 500`);
export const lockMethod = (execute: SqlExecutor, id: number) =>
  execute(sql`
    select 1 from "analysis_method" where "code" = (select "code" from "analysis_method" where "id" = ${id})
     order by "id" for update`);

export const addMethod = (
  db: Queryable,
  { input, ...of }: { input: NewMethod; revision: number; changeNote: string; authorId: number },
) => db.prisma.analysisMethod.create({ data: { ...input, ...of }, select: { id: true } });
export const changeMethod = (db: Queryable, { id, input }: { id: number; input: NewMethod }) =>
  db.prisma.analysisMethod.update({
    where: { id },
    data: { ...input, version: { increment: 1 } },
    select: { id: true },
  });
export const putInForce = async (
  execute: SqlExecutor,
  { id, code }: { id: number; code: string },
): Promise<void> => {
  await execute(sql`
    update "analysis_method" set "status" = 'superseded', "version" = "version" + 1
     where "code" = ${code} and "status" = 'in-force'`);
  await execute(sql`
    update "analysis_method" set "status" = 'in-force', "inForceSince" = now(), "version" = "version" + 1
     where "id" = ${id}`);
};

/** How a page shows a method. */
export const toMethod = (row: MethodRow): AnalysisMethod => ({
  ...row,
  createdAt: row.createdAt.toISOString(),
  inForceSince: row.inForceSince?.toISOString() ?? null,
});

export const removeDraft = (db: Queryable, id: number) => db.prisma.analysisMethod.delete({ where: { id } });
