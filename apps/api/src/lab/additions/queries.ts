import type {
  Addition,
  AdditionKind,
  AdditionLine,
  AdditionRequest,
  AdditionState,
  AdditionSummary,
  ChemicalHazard,
  ComputedAddition,
  PlannedStep,
  TankContents,
} from '@huelot/contracts';
import { Prisma, sql, type SqlExecutor } from '../../db/client.ts';
import { containing } from '../../db/lists.ts';

export interface AdditionRow {
  id: number;
  number: string;
  bath: Addition['bath'];
  contents: TankContents;
  kind: AdditionKind;
  /** As stored: a corrected one is `done` here, with `correctedBy`. */
  state: Exclude<AdditionState, 'corrected'>;
  fromAnalysis: Addition['fromAnalysis'];
  request: AdditionRequest | null;
  computed: (ComputedAddition & { cautions: string[] }) | null;
  steps: PlannedStep[];
  edited: boolean;
  planReason: string;
  planQuestions: string[];
  plannedBy: string;
  plannedAt: Date;
  bathVersion: number;
  doneById: number | null;
  doneBy: string | null;
  checkedById: number | null;
  checkedBy: string | null;
  startedAt: Date | null;
  finishedAt: Date | null;
  temperatureBeforeC: number | null;
  temperatureAfterC: number | null;
  volumeBeforeL: number | null;
  volumeAfterL: number | null;
  doneReason: string;
  doneQuestions: string[];
  notes: string;
  lines: AdditionLine[];
  hazards: ChemicalHazard[];
  cost: string | null;
  withdrawnBy: string | null;
  withdrawReason: string | null;
  corrects: Addition['corrects'];
  correctedBy: Addition['correctedBy'];
  confirmedBy: Addition['confirmedBy'];
}
const lines = sql`
  select coalesce(jsonb_agg(jsonb_build_object(
      'id', n."id", 'action', n."action", 'chemicalLotId', n."chemicalLotId", 'kg', n."kg", 'volumeL', n."volumeL",
      'measured', n."measured", 'cost', n."cost"::text,
      'waste', case when n."wasteCategory" is null then null else jsonb_build_object('volumeL', n."wasteVolumeL",
        'category', n."wasteCategory", 'destination', n."wasteDestination", 'document', n."wasteDocument") end,
      'chemical', (n."snapshot" -> 'chemical') - 'hazards')
      order by n."position"), '[]'::jsonb)
    from "addition_line" n
   where n."additionId" = a."id"`;
const ref = (alias: string): Prisma.Sql => {
  const name = Prisma.raw(`"${alias}"`);
  return sql`case when ${name}."id" is null then null else jsonb_build_object('id', ${name}."id", 'number', ${name}."number") end`;
};
/** Of what is still to be done, what is known of its chemicals today; of what was done, what was known then. */
const hazards = sql`case a."state"
    when 'planned' then (
      select coalesce(array_agg(distinct h), '{}') from "chemical_lot" l join "chemical" c on c."id" = l."chemicalId"
        cross join unnest(c."hazards") h
       where l."id" in (select (s->>'chemicalLotId')::int from jsonb_array_elements(a."steps") s))
    else (
      select coalesce(array_agg(distinct h), '{}') from "addition_line" n
        cross join jsonb_array_elements_text(n."snapshot" -> 'chemical' -> 'hazards') h
       where n."additionId" = a."id") end`;
const additions = sql`
  select a."id", a."number", b."contents", a."kind", a."state", a."request", a."computed", a."steps", a."edited", a."planReason", a."planQuestions",
         a."snapshot" -> 'bath' as "bath",
         ${ref('f')} as "fromAnalysis", a."snapshot" ->> 'plannedBy' as "plannedBy", a."plannedAt", a."bathVersion",
         a."doneById", a."snapshot" ->> 'doneBy' as "doneBy", a."checkedById", a."snapshot" ->> 'checkedBy' as "checkedBy", a."startedAt", a."finishedAt",
         a."temperatureBeforeC", a."temperatureAfterC", a."volumeBeforeL", a."volumeAfterL", a."doneReason", a."doneQuestions", a."notes",
         (${lines}) as "lines",
         (select sum(n."cost")::text from "addition_line" n where n."additionId" = a."id") as "cost",
         ${hazards} as "hazards",
         a."snapshot" ->> 'withdrawnBy' as "withdrawnBy", a."withdrawReason", ${ref('o')} as "corrects", ${ref('n')} as "correctedBy",
         (select jsonb_build_object('id', y."id", 'number', y."number") from "bath_request" r
            join "analysis" y on y."id" = r."closedByAnalysisId"
           where r."additionId" in (a."id", a."correctsId") and y."voidedAt" is null order by y."sampledAt", y."id" limit 1) as "confirmedBy"
    from "addition" a
    join "bath" b on b."id" = a."bathId"
    join "tank" t on t."id" = b."tankId"
    left join "analysis" f on f."id" = a."fromAnalysisId"
    left join "addition" o on o."id" = a."correctsId"
    left join "addition" n on n."correctsId" = a."id"`;

export const readAddition = async (execute: SqlExecutor, id: number): Promise<AdditionRow | null> =>
  (await execute<AdditionRow>(sql`${additions} where a."id" = ${id}`))[0] ?? null;
export const readPlanned = async (execute: SqlExecutor, bathId: number): Promise<AdditionRow | null> =>
  (await execute<AdditionRow>(sql`${additions} where a."bathId" = ${bathId} and a."state" = 'planned'`))[0] ??
  null;
export const hasMakeUp = async (execute: SqlExecutor, bathId: number): Promise<boolean> =>
  (
    await execute<{ id: number }>(
      sql`select "id" from "addition" where "bathId" = ${bathId} and "kind" = 'make-up' and "state" <> 'withdrawn' limit 1`,
    )
  ).length > 0;

export interface Asked {
  search?: string | undefined;
  bathId?: number | undefined;
  tankId?: number | undefined;
  chemicalId?: number | undefined;
  kind?: AdditionKind | undefined;
  state?: AdditionState | undefined;
  from?: string | undefined;
  to?: string | undefined;
}
const zone = sql`(select "timeZone" from "shop")`;
const inState = (state: AdditionState): Prisma.Sql =>
  state === 'corrected'
    ? sql`and n."id" is not null`
    : state === 'done'
      ? sql`and a."state" = 'done' and n."id" is null`
      : sql`and a."state" = ${state}`;
const matching = (options: Asked): Prisma.Sql => sql`
  ${options.bathId === undefined ? Prisma.empty : sql`and a."bathId" = ${options.bathId}`}
  ${options.tankId === undefined ? Prisma.empty : sql`and b."tankId" = ${options.tankId}`}
  ${options.kind === undefined ? Prisma.empty : sql`and a."kind" = ${options.kind}`}
  ${options.state === undefined ? Prisma.empty : inState(options.state)}
  ${options.chemicalId === undefined ? Prisma.empty : sql`and exists (select 1 from "addition_line" x join "chemical_lot" l on l."id" = x."chemicalLotId" where x."additionId" = a."id" and l."chemicalId" = ${options.chemicalId})`}
  ${options.from === undefined ? Prisma.empty : sql`and a."plannedAt" >= (${options.from}::date)::timestamp at time zone ${zone}`}
  ${options.to === undefined ? Prisma.empty : sql`and a."plannedAt" < (${options.to}::date + 1)::timestamp at time zone ${zone}`}
  ${options.search ? sql`and (a."number" || ' ' || b."number" || ' ' || t."code" || ' ' || (a."snapshot" ->> 'plannedBy') || ' ' || a."notes") ilike ${containing(options.search)}` : Prisma.empty}`;

/** Additions, newest first, one more than the page holds. */
export const readAdditions = (
  execute: SqlExecutor,
  options: Asked & { before: { plannedAt: string; id: number } | null; limit: number },
) =>
  execute<AdditionRow>(sql`
    ${additions} where true ${matching(options)}
      ${options.before === null ? Prisma.empty : sql`and (a."plannedAt", a."id") < (${options.before.plannedAt}::timestamptz, ${options.before.id}::int)`}
     order by a."plannedAt" desc, a."id" desc limit ${options.limit + 1}`);

/** How a page names the state: one that was corrected is no longer done. */
export const stateOf = (row: AdditionRow): AdditionSummary['state'] =>
  row.correctedBy === null ? row.state : 'corrected';
