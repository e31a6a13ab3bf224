import type { Lab, ProcessFile, Provenance } from '@huelot/contracts';
import { type Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';

const instant = (column: Prisma.Sql) =>
  sql`to_char(${column} at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;

export interface ProvenanceRow {
  recipeId: number;
  number: string;
  revision: number;
  origin: string;
  priorArt: string;
  rights: string;
  fileIds: number[];
  takenOver: Provenance['takenOver'];
  version: number;
}
/** Of a revision: its own, or that of the newest revision before it that has one. */
export const readProvenance = async (
  execute: SqlExecutor,
  revisionId: number,
): Promise<ProvenanceRow | null> =>
  (
    await execute<ProvenanceRow>(sql`
      select x."recipeId", r."number", x."revision", coalesce(p."origin", '') as "origin", coalesce(p."priorArt", '') as "priorArt",
             coalesce(p."rights", '') as "rights",
             (select coalesce(jsonb_agg(f."fileId" order by f."position"), '[]'::jsonb)
                from "recipe_provenance_file" f where f."revisionId" = p."revisionId") as "fileIds",
             (select jsonb_build_object('shop', i."shop", 'recipe', i."recipe", 'fingerprint', i."fingerprint",
                       'exportedAt', ${instant(sql`i."exportedAt"`)}, 'by', i."snapshot" ->> 'by', 'at', ${instant(sql`i."at"`)})
                from "process_import" i where i."recipeId" = x."recipeId") as "takenOver",
             case when p."revisionId" = x."id" then p."version" else 1 end as "version"
        from "recipe_revision" x
        join "recipe" r on r."id" = x."recipeId"
        left join lateral (
          select p.* from "recipe_provenance" p join "recipe_revision" b on b."id" = p."revisionId"
           where b."recipeId" = x."recipeId" and b."revision" <= x."revision"
           order by b."revision" desc limit 1) p on true
       where x."id" = ${revisionId}`)
  )[0] ?? null;

export const lockRecipe = (execute: SqlExecutor, recipeId: number) =>
  execute(sql`select 1 from "recipe" where "id" = ${recipeId} for update`);

export interface NewProvenance {
  origin: string;
  priorArt: string;
  rights: string;
  fileIds: readonly number[];
}
export async function writeProvenance(
  { prisma }: Queryable,
  revisionId: number,
  { fileIds, ...texts }: NewProvenance,
): Promise<void> {
  await prisma.recipeProvenance.upsert({
    where: { revisionId },
    create: { revisionId, ...texts, version: 2 },
    update: { ...texts, version: { increment: 1 } },
    select: { revisionId: true },
  });
  await prisma.recipeProvenanceFile.deleteMany({ where: { revisionId } });
  await prisma.recipeProvenanceFile.createMany({
    data: fileIds.map((fileId, position) => ({ revisionId, fileId, position })),
  });
}

/** What stands behind a revision and counts, with the coupons of a series; nothing that names a customer or a person. */
export const readExported = (execute: SqlExecutor, revisionId: number) =>
  execute<ProcessFile['evidence'][number] & { materialId: number }>(sql`
    select e."kind", e."grade", e."materialId", e."pieces", e."instrument",
           jsonb_build_object('name', e."alloy", 'condition', e."condition", 'baseMetal', e."baseMetal") as "alloy",
           case when e."labL" is not null then jsonb_build_object('L', e."labL", 'a', e."labA", 'b', e."labB") end as "lab",
           case when s."id" is not null then jsonb_build_object('code', s."code", 'revision', s."revision", 'name', s."name",
             'contents', s."contents", 'component', s."component", 'unit', s."unit",
             'referenceTemperatureC', s."referenceTemperatureC", 'preparation', s."preparation",
             'trials', (
               select coalesce(jsonb_agg(jsonb_build_object('mark', t."mark", 'coatingThicknessUm', t."coatingThicknessUm",
                        'temperatureC', t."temperatureC", 'voltageV', t."voltageV", 'timeS', t."timeS", 'strength', t."strength",
                        'pH', t."pH", 'currentDensityAPerM2', t."currentDensityAPerM2", 'outcome', t."outcome",
                        'protects', t."protects", 'grade', t."grade",
                        'lab', case when t."labL" is not null then jsonb_build_object('L', t."labL", 'a', t."labA", 'b', t."labB") end,
                        'madeOn', t."madeOn"::text) order by t."position"), '[]'::jsonb)
                 from "coupon_trial" t where t."seriesId" = s."id")) end as "series"
      from "recipe_evidence" e left join "coupon_series" s on s."id" = e."seriesId"
     where e."revisionId" = ${revisionId} and e."withdrawnAt" is null and e."kind" <> 'elsewhere'
       and coalesce(e."expiresOn" >= (select (now() at time zone "timeZone")::date from "shop"), true)
     order by e."id"`);

export const readMaterials = (execute: SqlExecutor, ids: readonly number[]) =>
  execute<ProcessFile['materials'][number] & { id: number }>(sql`
    select "id", "name", "designation", "condition", "baseMetal", "densityKgPerM3", "heatCapacityJPerKgK", "source", "evidence", "notes"
      from "material" where "id" = any(${[...ids]}::int[])`);
/** Materials of these names, in every condition. */
export const readNamed = (execute: SqlExecutor, names: readonly string[]) =>
  execute<{ id: number; name: string; condition: string; baseMetal: string }>(sql`
    select "id", "name", "condition", "baseMetal" from "material" where "name" = any(${[...names]}::text[])`);

export const readShopName = async (execute: SqlExecutor) =>
  (
    await execute<{ name: string; day: string; now: string }>(sql`
      select "name", (now() at time zone "timeZone")::date::text as "day", ${instant(sql`now()`)} as "now" from "shop"`)
  )[0] ?? { name: '', day: '', now: '' };

export const findImport = async (execute: SqlExecutor, sha256: Buffer) =>
  (
    await execute<{ number: string }>(sql`
      select r."number" from "process_import" i join "recipe" r on r."id" = i."recipeId" where i."sha256" = ${sha256}`)
  )[0] ?? null;
export const addImport = (
  db: Queryable,
  data: {
    recipeId: number;
    sha256: Buffer<ArrayBuffer>;
    shop: string;
    recipe: string;
    fingerprint: string;
    exportedAt: Date;
    personId: number;
  },
) => db.prisma.processImport.create({ data, select: { id: true } });

export interface ElsewhereRow {
  revisionId: number;
  grade: string;
  materialId: number;
  alloy: string;
  condition: string;
  baseMetal: string;
  pieces: number;
  instrument: string;
  lab: Lab | null;
  elsewhere: Prisma.InputJsonObject;
  citedById: number;
}
export const addElsewhere = (db: Queryable, { lab, ...row }: ElsewhereRow) =>
  db.prisma.recipeEvidence.create({
    data: {
      ...row,
      ...{ kind: 'elsewhere', labL: lab?.L ?? null, labA: lab?.a ?? null, labB: lab?.b ?? null },
      citedInDraft: true,
    },
    select: { id: true },
  });
