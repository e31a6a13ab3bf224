import { stepQuantities } from '@huelot/contracts';
import { sql, type SqlExecutor } from '../../db/client.ts';

/** The lot and recipe of a nonconformance, and what was wrong. */
export const readSubject = async (execute: SqlExecutor, id: number) =>
  (
    await execute<{ lotId: number; recipeId: number; recipe: string; fault: string }>(sql`
      select n."lotId", r."id" as "recipeId", concat(r."number", ' ', r."name") as "recipe", n."fault"
        from "nonconformance" n
        join "lot" l on l."id" = n."lotId"
        join "recipe_revision" rr on rr."id" = l."recipeRevisionId"
        join "recipe" r on r."id" = rr."recipeId"
       where n."id" = ${id}`)
  )[0] ?? null;

export interface ComparedLot {
  id: number;
  number: string;
  bad: boolean;
}
/** The newest lots of a recipe: bad with a nonconformance of the same fault, good once checked and without any. */
export const readCompared = (
  execute: SqlExecutor,
  { lotId, recipeId, fault, most }: { lotId: number; recipeId: number; fault: string; most: number },
) =>
  execute<ComparedLot>(sql`
    select l."id", l."number", x."bad"
      from "lot" l
      join "recipe_revision" rr on rr."id" = l."recipeRevisionId" and rr."recipeId" = ${recipeId}
      cross join lateral (
        select l."id" = ${lotId} or coalesce(bool_or(n."fault" = ${fault}), false) as "bad", count(n."id") as "all"
          from "nonconformance" n where n."lotId" = l."id") x
     where x."bad" or x."all" = 0 and exists (select from "final_check" f where f."lotId" = l."id")
     order by l."id" = ${lotId} desc, l."id" desc limit ${most}`);

export interface FactorRow {
  lotId: number;
  name: string;
  unit: string;
  value: number | null;
  word: string | null;
}
const names = JSON.stringify(
  Object.fromEntries(Object.entries(stepQuantities).map(([quantity, { label }]) => [quantity, label])),
);

/**
 * Everything on record that can differ between lots: readings and times of steps, what the bath held by its last analysis, who, where and
 * with what. A figure of several steps of one title is their mean.
 */
export const readFactors = (execute: SqlExecutor, lotIds: readonly number[]) =>
  execute<FactorRow>(sql`
    with "step" as (
      select s."id", s."lotId", st."title", s."doneAt", s."bathId", s."tookS", s."personId", s."snapshot"
        from "step_sign_off" s join "traveler_step" st on st."id" = s."stepId"
       where s."lotId" = any(${[...lotIds]}::int[])),
    "figure" as (
      select s."lotId", concat(s."title", ': ', ${names}::jsonb ->> r."quantity") as "name", r."quantity" as "unit",
             coalesce((select k."newValue" from "step_correction" k
                        where k."signOffId" = s."id" and k."quantity" = r."quantity" order by k."id" desc limit 1), r."value") as "value"
        from "step" s join "step_reading" r on r."signOffId" = s."id"
       union all
      select "lotId", concat("title", ': time in the step'), 's', "tookS" from "step" where "tookS" is not null
       union all
      select s."lotId", concat(s."title", ', bath: ', a."name"), a."unit", a."value"
        from "step" s
        cross join lateral (
          select distinct on (r."component") r."name", r."unit", r."value"
            from "analysis_result" r join "analysis" an on an."id" = r."analysisId" and an."voidedAt" is null
           where r."bathId" = s."bathId" and r."sampledAt" <= s."doneAt"
           order by r."component", r."sampledAt" desc) a),
    "word" as (
      select "lotId", concat("title", ': signed by') as "name", "snapshot" ->> 'person' as "word" from "step"
       union all
      select s."lotId", concat(s."title", ': bath'), b."number" from "step" s join "bath" b on b."id" = s."bathId"
       union all
      select s."lotId", concat(s."title", ', instrument of ', ${names}::jsonb ->> r."quantity"), r."instrument"
        from "step" s join "step_reading" r on r."signOffId" = s."id" where r."instrument" <> ''
       union all
      select s."lotId", concat(s."title", ': newest chemical in the bath'), x."word"
        from "step" s
        cross join lateral (
          select concat_ws(' lot ', c."name", cl."supplierLot") as "word"
            from "addition" ad
            join "addition_line" li on li."additionId" = ad."id"
            join "chemical_lot" cl on cl."id" = li."chemicalLotId"
            join "chemical" c on c."id" = cl."chemicalId"
           where ad."bathId" = s."bathId" and ad."finishedAt" <= s."doneAt"
           order by ad."finishedAt" desc, li."position" limit 1) x
       union all
      select l."id", 'rack', k."code" from "lot" l join "rack" k on k."id" = l."rackId" where l."id" = any(${[...lotIds]}::int[])
       union all
      select l."id", 'power supply', k."code" from "lot" l join "power_supply" k on k."id" = l."supplyId" where l."id" = any(${[...lotIds]}::int[])
       union all
      select l."id", 'recipe revision', r."revision"::text
        from "lot" l join "recipe_revision" r on r."id" = l."recipeRevisionId" where l."id" = any(${[...lotIds]}::int[]))
    select "lotId", "name", "unit", avg("value")::float8 as "value", null as "word" from "figure" group by "lotId", "name", "unit"
     union all
    select distinct "lotId", "name", '', null::float8, "word" from "word" where "word" is not null`);
