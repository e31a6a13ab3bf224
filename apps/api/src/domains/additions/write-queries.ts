import type { AdditionKind, doAddition, PlannedStep } from '@huelot/contracts';
import type { z } from 'zod';
import { sql, type Run } from '../../db/client.ts';

export type Actuals = z.output<typeof doAddition.body>;

export async function addPlan(
  run: Run,
  of: {
    number: string;
    bathId: number;
    kind: AdditionKind;
    fromAnalysisId: number | null;
    request: object | null;
    computed: object | null;
    steps: PlannedStep[];
    edited: boolean;
    planReason: string;
    bathVersion: number;
    plannedById: number;
  },
): Promise<number> {
  const [row] = await run<{ id: number }>(sql`
    insert into "addition" ("number", "bathId", "kind", "fromAnalysisId", "request", "computed", "steps", "edited", "planReason",
      "bathVersion", "plannedById")
    values (${of.number}, ${of.bathId}, ${of.kind}, ${of.fromAnalysisId}::int, ${jsonOf(of.request)}::jsonb,
      ${jsonOf(of.computed)}::jsonb, ${JSON.stringify(of.steps)}::jsonb, ${of.edited}, ${of.planReason}, ${of.bathVersion}, ${of.plannedById})
    returning "id"`);
  if (row === undefined) throw new Error('an addition was not written');
  return row.id;
}
const jsonOf = (given: object | null) => (given === null ? null : JSON.stringify(given));

export interface Done extends Omit<Actuals, 'lines' | 'checker'> {
  doneById: number;
  checkedById: number | null;
}
/** A planned addition becomes done. */
export const setDone = (run: Run, of: Done & { id: number }) =>
  run(sql`
    update "addition" set "state" = 'done', "doneById" = ${of.doneById}, "checkedById" = ${of.checkedById}::int,
           "startedAt" = ${of.startedAt}::timestamptz, "finishedAt" = ${of.finishedAt}::timestamptz,
           "temperatureBeforeC" = ${of.temperatureBeforeC}::float8, "temperatureAfterC" = ${of.temperatureAfterC}::float8,
           "volumeBeforeL" = ${of.volumeBeforeL}::float8, "volumeAfterL" = ${of.volumeAfterL}::float8,
           "doneReason" = ${of.reason}, "notes" = ${of.notes}
     where "id" = ${of.id}`);
/** Another record of what was done, in place of one: the plan is the same. */
export async function addCorrection(
  run: Run,
  of: Done & { number: string; correctsId: number; bathVersion: number },
): Promise<number> {
  const [row] = await run<{ id: number }>(sql`
    insert into "addition" ("number", "bathId", "kind", "state", "fromAnalysisId", "request", "computed", "steps", "edited",
      "planReason", "bathVersion", "plannedById", "doneById", "checkedById", "startedAt", "finishedAt", "temperatureBeforeC",
      "temperatureAfterC", "volumeBeforeL", "volumeAfterL", "doneReason", "notes", "correctsId")
    select ${of.number}, "bathId", "kind", 'done', "fromAnalysisId", "request", "computed", "steps", "edited", "planReason",
           ${of.bathVersion}, "plannedById", ${of.doneById}, ${of.checkedById}::int, ${of.startedAt}::timestamptz,
           ${of.finishedAt}::timestamptz, ${of.temperatureBeforeC}::float8, ${of.temperatureAfterC}::float8,
           ${of.volumeBeforeL}::float8, ${of.volumeAfterL}::float8, ${of.reason}, ${of.notes}, "id"
      from "addition" where "id" = ${of.correctsId}
    returning "id"`);
  if (row === undefined) throw new Error('a correction was not written');
  return row.id;
}
export const setWithdrawn = (run: Run, of: { id: number; personId: number; reason: string }) =>
  run(sql`
    update "addition" set "state" = 'withdrawn', "withdrawnById" = ${of.personId}, "withdrawReason" = ${of.reason}
     where "id" = ${of.id}`);

/** One thing that went in or out; its cost is what its lot was bought for, else the price of the chemical today. */
export async function addLine(
  run: Run,
  of: { additionId: number; position: number; line: Actuals['lines'][number] },
): Promise<number> {
  const { line } = of;
  const [row] = await run<{ id: number }>(sql`
    insert into "addition_line" ("additionId", "position", "action", "chemicalLotId", "kg", "volumeL", "measured", "cost",
      "wasteVolumeL", "wasteCategory", "wasteDestination", "wasteDocument")
    values (${of.additionId}, ${of.position}, ${line.action}, ${line.chemicalLotId}::int, ${line.kg}, ${line.volumeL}::float8,
      ${line.measured},
      (select round(coalesce(l."pricePerKg", c."pricePerKg") * (${line.kg}::float8)::numeric, 2) from "chemical_lot" l join "chemical" c on c."id" = l."chemicalId"
        where l."id" = ${line.chemicalLotId}::int),
      ${line.waste?.volumeL ?? null}::float8, ${line.waste?.category ?? null}::text, ${line.waste?.destination ?? null}::text,
      ${line.waste?.document ?? null}::text)
    returning "id"`);
  if (row === undefined) throw new Error('a line of an addition was not written');
  return row.id;
}
/** Keeps other users of these lots waiting, always in the same order. */
export const lockLots = (run: Run, ids: readonly number[]) =>
  run(sql`select 1 from "chemical_lot" where "id" = any(${[...ids]}) order by "id" for update`);
/** A corrected addition no longer waits for an analysis; returns whether it did. */
export async function takeOverRequest(
  run: Run,
  of: { additionId: number; personId: number; number: string },
) {
  const rows = await run<{ dueAt: Date; components: string[] }>(sql`
    update "bath_request" set "closedAt" = now(), "closedById" = ${of.personId}, "closeReason" = ${`corrected by ${of.number}`}
     where "additionId" = ${of.additionId} and "closedAt" is null returning "dueAt", "components"`);
  return rows[0] ?? null;
}
