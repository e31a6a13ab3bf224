import type { TankContents } from '@huelot/contracts';
import { sql, type SqlExecutor } from '../../db/client.ts';
import { analysisCounts } from '../baths/index.ts';

/** Fills of these contents that stood in their tanks after an instant. */
export const readFillsSince = (
  execute: SqlExecutor,
  options: { contents: readonly TankContents[]; from: Date },
) =>
  execute<{ id: number; number: string; tankCode: string; contents: TankContents }>(sql`
    select b."id", b."number", t."code" as "tankCode", b."contents"
      from "bath" b join "tank" t on t."id" = b."tankId"
     where b."contents" = any(${[...options.contents]}) and (b."dumpedAt" is null or b."dumpedAt" > ${options.from})
     order by t."lineOrder", t."code", b."id" limit 500`);

/** How strong baths were on the mean of their analyses, in g/L of what their setup names as the solute. */
export const readStrengths = (execute: SqlExecutor, options: { bathIds: readonly number[]; from: Date }) =>
  execute<{ bathId: number; gramsPerLitre: number }>(sql`
    select b."id" as "bathId", avg(r."gramsPerLitre")::float8 as "gramsPerLitre"
      from unnest(${[...options.bathIds]}::int[]) as b("id")
      join lateral (select s."setup"->>'solute' as "solute" from "bath_setup" s where s."bathId" = b."id" order by s."revision" desc limit 1) s on true
      join "analysis_result" r on r."bathId" = b."id" and r."component" = s."solute" and r."sampledAt" > ${options.from}
     where r."gramsPerLitre" is not null and ${analysisCounts(sql`r."analysisId"`)}
     group by b."id"`);

/** What was put into baths beside their make-up, by the contents of the bath and the chemical; corrected records once. */
export const readUses = (execute: SqlExecutor, options: { contents: readonly TankContents[]; from: Date }) =>
  execute<{
    contents: TankContents;
    chemicalId: number;
    code: string;
    name: string;
    kg: number;
    soluteKg: number;
  }>(sql`
    select b."contents", c."id" as "chemicalId", c."code", c."name", sum(n."kg")::float8 as "kg",
           sum(n."kg" * l."assayMassFraction")::float8 as "soluteKg"
      from "addition" x
      join "bath" b on b."id" = x."bathId"
      join "addition_line" n on n."additionId" = x."id" and n."action" = 'add-stock' and n."kg" > 0
      join "chemical_lot" l on l."id" = n."chemicalLotId"
      join "chemical" c on c."id" = l."chemicalId"
     where x."state" = 'done' and x."kind" <> 'make-up' and x."finishedAt" > ${options.from}
       and b."contents" = any(${[...options.contents]})
       and not exists (select 1 from "addition" n where n."correctsId" = x."id")
     group by b."contents", c."id" order by c."code"`);

/** Priced deliveries of chemicals since an instant; where none came since, the last one before. */
export const readReceipts = (execute: SqlExecutor, options: { chemicalIds: readonly number[]; from: Date }) =>
  execute<{
    chemicalId: number;
    lotId: number;
    supplierLot: string;
    receivedAt: Date;
    receivedKg: number;
    pricePerKg: string;
    atListPrice: boolean;
  }>(sql`
    select "chemicalId", "lotId", "supplierLot", "receivedAt", "receivedKg", "price"::text as "pricePerKg", "atListPrice"
      from (
        select l."chemicalId", l."id" as "lotId", l."supplierLot", l."receivedAt", l."receivedKg",
               coalesce(l."pricePerKg", c."pricePerKg") as "price", l."pricePerKg" is null as "atListPrice",
               row_number() over (partition by l."chemicalId" order by l."receivedAt" desc, l."id" desc) as "age"
          from "chemical_lot" l join "chemical" c on c."id" = l."chemicalId"
         where l."chemicalId" = any(${[...options.chemicalIds]}) and coalesce(l."pricePerKg", c."pricePerKg") is not null) r
     where "age" = 1 or "receivedAt" > ${options.from}
     order by "chemicalId", "receivedAt" desc, "lotId" desc`);
