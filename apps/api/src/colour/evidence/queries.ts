import type { CitedEvidence, RevisionStatus, Step } from '@huelot/contracts';
import { type Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';

const instant = (column: Prisma.Sql) =>
  sql`to_char(${column} at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;

/** A step whose colour is to be proved. */
export type ColourStep = Pick<
  Step,
  'kind' | 'title' | 'contents' | 'durationS' | 'settings' | 'electrical'
> & { position: number };

/** One row of evidence as it is stored, with what became of its series. */
export interface EvidenceRow extends Omit<CitedEvidence, 'gaps'> {
  revisionId: number;
  materialId: number;
  citedInDraft: boolean;
  firstComparerId: number | null;
  secondComparerId: number | null;
  isExpired: boolean;
  instrumentId: number | null;
  /** The kind of bath that the coupons were made in. */
  contents: string | null;
  /** The series, the lot or the proof elsewhere that it is. */
  source: string;
}
const evidence = sql`
  select e."id", e."revisionId", e."kind", e."grade", e."materialId", e."pieces", e."instrument", e."instrumentId", e."instrumentOverdue", e."note", e."elsewhere", e."citedInDraft", s."contents",
         coalesce('series ' || e."seriesId", 'lot ' || e."lotId", 'elsewhere ' || md5(e."elsewhere"::text)) as "source",
         e."firstComparerId", e."secondComparerId",
         jsonb_build_object('name', e."alloy", 'condition', e."condition", 'baseMetal', e."baseMetal") as "alloy",
         case when s."id" is not null then jsonb_build_object('id', s."id", 'code', s."code", 'revision', s."revision",
           'name', s."name", 'status', s."status") end as "series",
         case when e."lotId" is not null then jsonb_build_object('id', e."lotId", 'number', e."lotNumber") end as "lot",
         to_jsonb(array_remove(array[e."snapshot" ->> 'firstComparer', e."snapshot" ->> 'secondComparer'], null)) as "comparedBy",
         case when e."labL" is not null then jsonb_build_object('L', e."labL", 'a', e."labA", 'b', e."labB") end as "lab",
         e."expiresOn"::text as "expiresOn",
         coalesce(e."expiresOn" < (select (now() at time zone "timeZone")::date from "shop"), false) as "isExpired",
         e."snapshot" ->> 'citedBy' as "citedBy", ${instant(sql`e."citedAt"`)} as "citedAt",
         case when e."withdrawnAt" is not null then jsonb_build_object('by', e."snapshot" ->> 'withdrawnBy',
           'at', ${instant(sql`e."withdrawnAt"`)}, 'reason', e."withdrawReason") end as "withdrawn"
    from "recipe_evidence" e left join "coupon_series" s on s."id" = e."seriesId"`;

export const readEvidence = (execute: SqlExecutor, revisionIds: readonly number[]) =>
  execute<EvidenceRow>(
    sql`${evidence} where e."revisionId" = any(${[...revisionIds]}::int[]) order by e."id"`,
  );
export const readOne = async (execute: SqlExecutor, id: number): Promise<EvidenceRow | null> =>
  (await execute<EvidenceRow>(sql`${evidence} where e."id" = ${id}`))[0] ?? null;

/** The colour steps of revisions: what evidence has to be near to. */
export const readColourSteps = (execute: SqlExecutor, revisionIds: readonly number[]) =>
  execute<ColourStep & { revisionId: number }>(sql`
    select "revisionId", "position", "kind", "title", "contents", "durationS", "settings", "electrical"
      from "recipe_step"
     where "revisionId" = any(${[...revisionIds]}::int[]) and "kind" in ('colour', 'anodize')
     order by "revisionId", "position"`);

export interface RevisionRow {
  id: number;
  recipeId: number;
  number: string;
  name: string;
  revision: number;
  status: string;
  baseMetals: string[];
}
export const readRevisions = (execute: SqlExecutor, ids: readonly number[]) =>
  execute<RevisionRow>(sql`
    select x."id", x."recipeId", r."number", r."name", x."revision", x."status", r."baseMetals"
      from "recipe_revision" x join "recipe" r on r."id" = x."recipeId" where x."id" = any(${[...ids]}::int[])`);
/** The revision before this one. */
export const readRevisionBefore = async (execute: SqlExecutor, { id }: { id: number }) =>
  (
    await execute<{ id: number; revision: number }>(sql`
      select b."id", b."revision" from "recipe_revision" x
        join "recipe_revision" b on b."recipeId" = x."recipeId" and b."revision" < x."revision"
       where x."id" = ${id} order by b."revision" desc limit 1`)
  )[0] ?? null;
/** Keeps whoever approves, withdraws or discards the revision waiting until this transaction ends. */
export const lockRevision = (execute: SqlExecutor, id: number) =>
  execute(sql`
    select 1 from "recipe" where "id" = (select "recipeId" from "recipe_revision" where "id" = ${id}) for update`);

export interface MaterialRow {
  id: number;
  name: string;
  condition: string;
  baseMetal: string;
}
export const readMaterials = (execute: SqlExecutor, ids: readonly number[]) =>
  execute<MaterialRow>(sql`
    select "id", "name", "condition", "baseMetal" from "material" where "id" = any(${[...ids]}::int[])`);

/** Zones of parts that are of another material or condition than the rest. */
export const readZoneMaterials = (execute: SqlExecutor, partIds: readonly number[]) =>
  execute<MaterialRow & { partId: number; zone: string }>(sql`
    select m."id", m."name", m."condition", m."baseMetal", z."partId", z."name" as "zone"
      from "part_zone" z join "material" m on m."id" = z."materialId"
     where z."partId" = any(${[...partIds]}::int[]) order by z."partId", z."position"`);

export const readSeriesToCite = async (execute: SqlExecutor, id: number) =>
  (
    await execute<{
      id: number;
      code: string;
      revision: number;
      status: RevisionStatus;
      materialId: number;
      material: { name: string; condition: string; baseMetal: string };
    }>(sql`
      select s."id", s."code", s."revision", s."status", s."materialId",
             coalesce(s."snapshot" -> 'material', snapshot_of('material', s."materialId")) as "material"
        from "coupon_series" s where s."id" = ${id} for share`)
  )[0] ?? null;
export const readActive = (execute: SqlExecutor, ids: readonly number[]) =>
  execute<{ id: number; displayName: string }>(sql`
    select "id", "displayName" from "person" where "active" and "id" = any(${[...ids]}::int[])`);

export interface NewEvidence {
  revisionId: number;
  kind: string;
  grade: string;
  materialId: number;
  alloy: string;
  condition: string;
  baseMetal: string;
  seriesId: number | null;
  lotId: number | null;
  lotNumber: string | null;
  pieces: number;
  firstComparerId: number | null;
  secondComparerId: number | null;
  instrument: string;
  instrumentId: number | null;
  instrumentOverdue: boolean;
  labL: number | null;
  labA: number | null;
  labB: number | null;
  note: string;
  expiresOn: Date | null;
  elsewhere?: Prisma.InputJsonObject | null;
  citedInDraft: boolean;
  citedById: number;
}
export const addEvidence = (db: Queryable, { elsewhere, ...data }: NewEvidence) =>
  db.prisma.recipeEvidence.create({
    data: { ...data, ...(elsewhere ? { elsewhere } : {}) },
    select: { id: true },
  });
export const removeEvidence = (db: Queryable, id: number) =>
  db.prisma.recipeEvidence.delete({ where: { id } });
export const withdrawEvidence = (db: Queryable, id: number, by: { personId: number; reason: string }) =>
  db.prisma.recipeEvidence.update({
    where: { id },
    data: { withdrawnById: by.personId, withdrawnAt: new Date(), withdrawReason: by.reason },
    select: { id: true },
  });

/** What a lot proves by now, as the first article or trial it was marked as. */
export const readProofOfLot = async (execute: SqlExecutor, lotId: number) =>
  (
    await execute<{ kind: CitedEvidence['kind']; recipeId: number; revisionId: number }>(sql`
      select e."kind", r."recipeId", e."revisionId" from "recipe_evidence" e
        join "recipe_revision" r on r."id" = e."revisionId"
       where e."lotId" = ${lotId} and e."withdrawnAt" is null order by e."id" desc limit 1`)
  )[0] ?? null;
