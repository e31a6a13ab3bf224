import type {
  NewPolarizationScan,
  PolarizationScan,
  PolarizationScanItem,
  ScanOutcome,
} from '@huelot/contracts';
import { Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { containing } from '../../db/lists.ts';

const instant = (column: Prisma.Sql) =>
  sql`to_char(${column} at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;
const head = sql`
  s."id", s."number", s."snapshot" -> 'material' as "material", s."finish", s."specimen", s."film", s."medium", s."scannedOn"::text as "scannedOn",
  s."result", s."snapshot" ->> 'enteredBy' as "enteredBy", ${instant(sql`s."enteredAt"`)} as "enteredAt",
  (select jsonb_build_object('id', n."id", 'number', n."number", 'reason', n."reason") from "polarization_scan" n where n."replacesId" = s."id")
    as "replacedBy"`;

export const readItems = (
  execute: SqlExecutor,
  {
    search,
    materialId,
    after,
    limit,
  }: { search?: string | undefined; materialId?: number | undefined; after: number | null; limit: number },
) =>
  execute<PolarizationScanItem>(sql`
    select ${head} from "polarization_scan" s
     where not exists (select from "polarization_scan" n where n."replacesId" = s."id")
       ${materialId === undefined ? Prisma.empty : sql`and s."materialId" = ${materialId}`}
       ${search ? sql`and (s."number" || ' ' || s."specimen" || ' ' || s."medium" || ' ' || (s."snapshot" -> 'material' ->> 'name')) ilike ${containing(search)}` : Prisma.empty}
       ${after === null ? Prisma.empty : sql`and s."id" < ${after}`}
     order by s."id" desc limit ${limit + 1}`);

export const readScan = async (execute: SqlExecutor, id: number): Promise<PolarizationScan | null> =>
  (
    await execute<PolarizationScan>(sql`
      select ${head}, s."temperatureC", s."areaMm2", s."solutionResistanceOhm", s."windowV", s."sternGearyV", s."equivalentWeight",
             m."densityKgPerM3", s."points", s."fileName", s."note", s."calcVersion", s."reason",
             (select jsonb_build_object('id', o."id", 'number', o."number") from "polarization_scan" o where o."id" = s."replacesId") as "replaces"
        from "polarization_scan" s join "material" m on m."id" = s."materialId" where s."id" = ${id}`)
  )[0] ?? null;

/** Keeps whoever else replaces the scan waiting until this transaction ends. */
export const lockScan = (execute: SqlExecutor, id: number) =>
  execute(sql`select 1 from "polarization_scan" where "id" = ${id} for update`);

export interface StoredScan {
  number: string;
  input: NewPolarizationScan;
  result: ScanOutcome;
  calcVersion: string;
  enteredById: number;
  replaces: { id: number; reason: string } | null;
}
export const addScan = (db: Queryable, { input, replaces, ...stored }: StoredScan) =>
  db.prisma.polarizationScan.create({
    data: {
      ...stored,
      ...input,
      scannedOn: new Date(`${input.scannedOn}T00:00:00Z`),
      replacesId: replaces?.id ?? null,
      reason: replaces?.reason ?? '',
    },
    select: { id: true },
  });
