import type { Standardisation, TitrantLot, TitrantReagent } from '@huelot/contracts';
import { Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';

export interface TitrantRow {
  id: number;
  reagent: TitrantReagent;
  label: string;
  expiresOn: string | null;
  expired: boolean;
  finished: boolean;
  notes: string;
  version: number;
  standardisations: Standardisation[];
}
const titrants = sql`
  select t."id", t."reagent", t."label", t."expiresOn"::text as "expiresOn", t."finished", t."notes", t."version",
         coalesce(t."expiresOn" < (now() at time zone (select "timeZone" from "shop"))::date, false) as "expired",
         (select jsonb_agg(jsonb_build_object(
             'id', s."id", 'eqPerLitre', s."eqPerLitre", 'standardUncertaintyEqPerLitre', s."standardUncertaintyEqPerLitre",
             'standardisedOn', s."standardisedOn"::text, 'by', s."snapshot" -> 'by',
             'at', to_char(s."at" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"'),
             'replacesId', s."replacesId",
             'replaced', exists (select 1 from "standardisation" n where n."replacesId" = s."id"), 'reason', s."reason")
             order by s."id" desc)
            from "standardisation" s where s."titrantId" = t."id") as "standardisations"
    from "titrant_lot" t`;

export const readTitrants = (
  execute: SqlExecutor,
  { finished, after, limit }: { finished: 'no' | 'yes' | 'all'; after: string | null; limit: number },
) =>
  execute<TitrantRow>(sql`
    ${titrants} where true
      ${finished === 'all' ? Prisma.empty : sql`and t."finished" = ${finished === 'yes'}`}
      ${after === null ? Prisma.empty : sql`and t."label" > ${after}`}
     order by t."label" limit ${limit + 1}`);
export const readTitrant = async (execute: SqlExecutor, id: number): Promise<TitrantRow | null> =>
  (await execute<TitrantRow>(sql`${titrants} where t."id" = ${id}`))[0] ?? null;
export const readTitrantByLabel = (db: Queryable, label: string) =>
  db.prisma.titrantLot.findUnique({ where: { label }, select: { id: true } });
export const lockTitrant = (execute: SqlExecutor, id: number) =>
  execute(sql`select 1 from "titrant_lot" where "id" = ${id} for update`);

const day = (text: string | null) => (text === null ? null : new Date(`${text}T00:00:00Z`));
export const addTitrant = (
  db: Queryable,
  options: { reagent: TitrantReagent; label: string; expiresOn: string | null; notes: string },
) =>
  db.prisma.titrantLot.create({
    data: { ...options, expiresOn: day(options.expiresOn) },
    select: { id: true },
  });
export const changeTitrant = (
  db: Queryable,
  { id, ...of }: { id: number; expiresOn: string | null; notes: string; finished: boolean },
) =>
  db.prisma.titrantLot.update({
    where: { id },
    data: { ...of, expiresOn: day(of.expiresOn), version: { increment: 1 } },
    select: { id: true },
  });
export async function addStandardisation(
  execute: SqlExecutor,
  options: {
    titrantId: number;
    eqPerLitre: number;
    standardUncertaintyEqPerLitre: number;
    standardisedOn: string;
    byId: number;
    replacesId: number | null;
    reason: string;
  },
): Promise<number> {
  const [row] = await execute<{ id: number }>(sql`
    insert into "standardisation" ("titrantId", "eqPerLitre", "standardUncertaintyEqPerLitre", "standardisedOn", "byId", "replacesId", "reason")
    values (${options.titrantId}, ${options.eqPerLitre}, ${options.standardUncertaintyEqPerLitre}, ${options.standardisedOn}::date, ${options.byId},
      ${options.replacesId}::int, ${options.reason})
    returning "id"`);
  if (row === undefined) throw new Error('a standardisation was not written');
  return row.id;
}
export const touchTitrant = (execute: SqlExecutor, id: number) =>
  execute(sql`update "titrant_lot" set "version" = "version" + 1 where "id" = ${id}`);

/** How a page shows a bottle: the strength in use is the last one that nobody replaced. */
export function toTitrant(row: TitrantRow): TitrantLot {
  const current = row.standardisations.find(({ replaced }) => !replaced);
  if (current === undefined) throw new Error(`titrant ${row.id} has no strength`);
  return { ...row, current };
}
