import type { AdditionKind, completeAddition, PlannedStep } from '@huelot/contracts';
import type { z } from 'zod';
import { sql, type SqlExecutor } from '../../db/client.ts';

export type Actuals = z.output<typeof completeAddition.body>;

export async function addPlan(
  execute: SqlExecutor,
  options: {
    number: string;
    bathId: number;
    kind: AdditionKind;
    fromAnalysisId: number | null;
    request: object | null;
    computed: object | null;
    steps: PlannedStep[];
    edited: boolean;
    planReason: string;
    planQuestions: string[];
    bathVersion: number;
    plannedById: number;
  },
): Promise<number> {
  const [row] = await execute<{ id: number }>(sql`
    insert into "addition" ("number", "bathId", "kind", "fromAnalysisId", "request", "computed", "steps", "edited", "planReason",
      "planQuestions", "bathVersion", "plannedById")
    values (${options.number}, ${options.bathId}, ${options.kind}, ${options.fromAnalysisId}::int, ${jsonOf(options.request)}::jsonb,
      ${jsonOf(options.computed)}::jsonb, ${JSON.stringify(options.steps)}::jsonb, ${options.edited}, ${options.planReason}, ${options.planQuestions}, ${options.bathVersion}, ${options.plannedById})
    returning "id"`);
  if (row === undefined) throw new Error('an addition was not written');
  return row.id;
}
const jsonOf = (input: object | null) => (input === null ? null : JSON.stringify(input));

export interface Done extends Omit<Actuals, 'lines' | 'checker'> {
  doneById: number;
  checkedById: number | null;
  doneQuestions: string[];
}
/** A planned addition becomes done. */
export const setDone = (execute: SqlExecutor, options: Done & { id: number }) =>
  execute(sql`
    update "addition" set "state" = 'done', "doneById" = ${options.doneById}, "checkedById" = ${options.checkedById}::int,
           "startedAt" = ${options.startedAt}::timestamptz, "finishedAt" = ${options.finishedAt}::timestamptz,
           "temperatureBeforeC" = ${options.temperatureBeforeC}::float8, "temperatureAfterC" = ${options.temperatureAfterC}::float8,
           "volumeBeforeL" = ${options.volumeBeforeL}::float8, "volumeAfterL" = ${options.volumeAfterL}::float8,
           "doneReason" = ${options.reason}, "doneQuestions" = ${options.doneQuestions}, "notes" = ${options.notes}
     where "id" = ${options.id}`);
/** Another record of what was done, in place of one: the plan is the same. */
export async function addCorrection(
  execute: SqlExecutor,
  options: Done & { number: string; correctsId: number; bathVersion: number },
): Promise<number> {
  const [row] = await execute<{ id: number }>(sql`
    insert into "addition" ("number", "bathId", "kind", "state", "fromAnalysisId", "request", "computed", "steps", "edited",
      "planReason", "planQuestions", "bathVersion", "plannedById", "doneById", "checkedById", "startedAt", "finishedAt", "temperatureBeforeC",
      "temperatureAfterC", "volumeBeforeL", "volumeAfterL", "doneReason", "doneQuestions", "notes", "correctsId")
    select ${options.number}, "bathId", "kind", 'done', "fromAnalysisId", "request", "computed", "steps", "edited", "planReason", "planQuestions",
           ${options.bathVersion}, "plannedById", ${options.doneById}, ${options.checkedById}::int, ${options.startedAt}::timestamptz,
           ${options.finishedAt}::timestamptz, ${options.temperatureBeforeC}::float8, ${options.temperatureAfterC}::float8,
           ${options.volumeBeforeL}::float8, ${options.volumeAfterL}::float8, ${options.reason}, ${options.doneQuestions}, ${options.notes}, "id"
      from "addition" where "id" = ${options.correctsId}
    returning "id"`);
  if (row === undefined) throw new Error('a correction was not written');
  return row.id;
}
export const setWithdrawn = (
  execute: SqlExecutor,
  { personId, reason, id }: { id: number; personId: number; reason: string },
) =>
  execute(sql`
    update "addition" set "state" = 'withdrawn', "withdrawnById" = ${personId}, "withdrawReason" = ${reason}
     where "id" = ${id}`);

/** One thing that went in or out; its cost is what its lot was bought for, else the price of the chemical today. */
export async function addLine(
  execute: SqlExecutor,
  options: {
    additionId: number;
    position: number;
    line: Actuals['lines'][number];
    /** Decimals that the currency of the shop is counted in. */
    costDigits: number;
  },
): Promise<number> {
  const { line, costDigits } = options;
  const [row] = await execute<{ id: number }>(sql`
    insert into "addition_line" ("additionId", "position", "action", "chemicalLotId", "kg", "volumeL", "measured", "cost",
      "wasteVolumeL", "wasteCategory", "wasteDestination", "wasteDocument")
    values (${options.additionId}, ${options.position}, ${line.action}, ${line.chemicalLotId}::int, ${line.kg}, ${line.volumeL}::float8,
      ${line.measured},
      (select round(coalesce(l."pricePerKg", c."pricePerKg") * (${line.kg}::float8)::numeric, ${costDigits}::int) from "chemical_lot" l join "chemical" c on c."id" = l."chemicalId"
        where l."id" = ${line.chemicalLotId}::int),
      ${line.waste?.volumeL ?? null}::float8, ${line.waste?.category ?? null}::text, ${line.waste?.destination ?? null}::text,
      ${line.waste?.document ?? null}::text)
    returning "id"`);
  if (row === undefined) throw new Error('a line of an addition was not written');
  return row.id;
}
/** Keeps other users of these lots waiting, always in the same order. */
export const lockLots = (execute: SqlExecutor, ids: readonly number[]) =>
  execute(sql`select 1 from "chemical_lot" where "id" = any(${[...ids]}) order by "id" for update`);
/** A corrected addition no longer waits for an analysis; returns whether it did. */
export async function takeOverRequest(
  execute: SqlExecutor,
  { personId, number, additionId }: { additionId: number; personId: number; number: string },
) {
  const rows = await execute<{ dueAt: Date; components: string[] }>(sql`
    update "bath_request" set "closedAt" = now(), "closedById" = ${personId}, "closeReason" = ${`corrected by ${number}`}
     where "additionId" = ${additionId} and "closedAt" is null returning "dueAt", "components"`);
  return rows[0] ?? null;
}
