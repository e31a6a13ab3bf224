import type { ComponentUnit } from '@huelot/contracts';
import { sql, type SqlExecutor } from '../../db/client.ts';
import { analysisCounts } from '../baths/index.ts';

interface PreviousRow {
  component: string;
  unit: ComponentUnit;
  referenceTemperatureC: number | null;
  value: number;
  standardUncertainty: number | null;
  massFraction: number | null;
  sampledAt: Date;
}
interface Sample {
  bathId: number;
  sampledAt: Date;
  /** The analysis that is being corrected: it is not compared with itself. */
  correctsId: number | null;
}

/** The last result of each component before a sample, of the analyses that count. */
export const readPrevious = (execute: SqlExecutor, { bathId, sampledAt, correctsId }: Sample) =>
  execute<PreviousRow>(sql`
    select distinct on (r."component") r."component", r."unit", r."referenceTemperatureC", r."value", r."standardUncertainty",
           r."massFraction", r."sampledAt"
      from "analysis_result" r
     where r."bathId" = ${bathId} and r."sampledAt" <= ${sampledAt} and r."analysisId" is distinct from ${correctsId}::int
       and ${analysisCounts(sql`r."analysisId"`)}
     order by r."component", r."sampledAt" desc, r."id" desc`);

/** What was put into a bath and taken out between two samples, in its order. */
export const readMoves = (
  execute: SqlExecutor,
  { solute, bathId, since, until }: { bathId: number; since: Date; until: Date; solute: string },
) =>
  execute<{
    action: 'decant' | 'add-water' | 'add-stock';
    kg: number;
    massFraction: number;
    volumeBeforeL: number | null;
    finishedAt: Date;
  }>(sql`
    select n."action", n."kg", x."volumeBeforeL", x."finishedAt",
           case when c."solute" = ${solute} then l."assayMassFraction" else 0 end as "massFraction"
      from "addition" x
      join "addition_line" n on n."additionId" = x."id" and n."action" in ('decant', 'add-water', 'add-stock') and n."kg" > 0
      left join "chemical_lot" l on l."id" = n."chemicalLotId"
      left join "chemical" c on c."id" = l."chemicalId"
     where x."bathId" = ${bathId} and x."state" = 'done' and x."finishedAt" > ${since} and x."finishedAt" <= ${until}
       and not exists (select 1 from "addition" y where y."correctsId" = x."id")
     order by x."finishedAt", x."id", n."position"`);
