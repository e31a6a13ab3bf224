import type {
  AgreedColour,
  Electrical,
  PartZone,
  ReadyStep,
  StepSetting,
  Traveler,
  TravelerHead,
  TravelerStatus,
} from '@huelot/contracts';
import type { z } from 'zod';
import { Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { containing } from '../../db/lists.ts';
import { statusOfTanks } from '../../lab/baths/index.ts';
import { readPlaced } from '../../lab/instruments/index.ts';
import { judgeEvidence, readSignatureWord } from '../../colour/evidence/index.ts';
import { countCorrections } from './count-queries.ts';
import { doneCorrections } from './done-queries.ts';
import { acceptedOfSignOff, draftsOfStep, overrideOfStep, runOfStep } from './floor-queries.ts';

const instant = (column: Prisma.Sql) =>
  sql`to_char(${column} at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;

const signOff = sql`
  jsonb_build_object(
    'id', s."id", 'personId', s."personId", 'person', s."snapshot" -> 'person',
    'doneAt', ${instant(sql`s."doneAt"`)}, 'enteredAt', ${instant(sql`s."enteredAt"`)},
    'tank', (s."snapshot" -> 'tank') - 'name', 'bath', s."snapshot" -> 'bath', 'supply', (s."snapshot" -> 'supply') - 'name',
    'countIn', s."countIn", 'countOut', s."countOut", 'rejectCount', s."rejectCount",
    'countDifference', s."countDifference", 'countReason', s."countReason", 'countCorrections', ${countCorrections},
    'doneCorrections', ${doneCorrections},
    'outside', s."outside", 'reason', s."reason", 'note', s."note", 'clockDifferenceS', s."clockDifferenceS",
    'shortTime', case when s."shortTimeReason" = '' then null
                      else jsonb_build_object('tookS', s."tookS", 'reason', s."shortTimeReason") end,
    'accepted', ${acceptedOfSignOff},
    'bathState', s."bathState", 'bathReasons', to_jsonb(coalesce(s."bathReasons", '{}')),
    'override', case when s."overrideById" is not null
       then jsonb_build_object('by', s."snapshot" -> 'overrideBy', 'reason', s."overrideReason") end,
    'outsideCompetence', (
      select jsonb_build_object('by', w."snapshot" -> 'grantedBy', 'reason', w."reason") from "competence_override" w
       where w."stepId" = s."stepId" and w."personId" = s."personId" order by w."id" limit 1),
    'readings', (
      select coalesce(jsonb_agg(jsonb_build_object('quantity', r."quantity", 'value', r."value", 'target', r."target",
               'low', r."low", 'high', r."high", 'outside', r."outside", 'instrument', r."instrument",
               'instrumentId', r."instrumentId", 'instrumentFault', r."instrumentFault") order by r."id"), '[]'::jsonb)
        from "step_reading" r where r."signOffId" = s."id"),
    'corrections', (
      select coalesce(jsonb_agg(jsonb_build_object('id', c."id", 'quantity', c."quantity", 'oldValue', c."oldValue",
               'newValue', c."newValue", 'reason', c."reason", 'by', c."snapshot" -> 'correctedBy', 'at', ${instant(sql`c."correctedAt"`)}) order by c."id"), '[]'::jsonb)
        from "step_correction" c where c."signOffId" = s."id"))`;

const steps = sql`
  select coalesce(jsonb_agg(jsonb_build_object(
      'id', st."id", 'position', st."position", 'kind', st."kind", 'title', st."title", 'instructions', st."instructions",
      'contents', st."contents",
      'tank', st."snapshot" -> 'tank', 'supply', st."snapshot" -> 'supply',
      'durationS', st."durationS", 'dripS', st."dripS", 'settings', st."settings", 'electrical', st."electrical",
      'load', st."load", 'cautions', to_jsonb(st."cautions"), 'record', to_jsonb(st."record"),
      'signOff', case when s."id" is null then null else ${signOff} end,
      'carried', st."carriedSignOffId" is not null, 'bathStatus', null,
      'run', ${runOfStep}, 'drafts', ${draftsOfStep}, 'override', ${overrideOfStep}, 'evidence', null, 'instruments', '[]'::jsonb) order by st."position"), '[]'::jsonb)
    from "traveler_step" st
    left join "step_sign_off" s on s."id" = coalesce(st."carriedSignOffId", (select x."id" from "step_sign_off" x where x."stepId" = st."id"))
   where st."travelerId" = t."id"`;

const whole = sql`
  select jsonb_build_object(
      'id', t."id", 'number', t."number", 'revision', t."revision", 'kind', t."kind", 'status', t."status",
      'lot', jsonb_build_object('id', l."id", 'number', l."number", 'status', l."status", 'held', l."held", 'version', l."version"),
      'reworkOf', (select jsonb_build_object('id', w."id", 'number', w."number", 'revision', w."revision") from "traveler" w where w."id" = t."reworkOfId"),
      'quantity', t."quantity", 'head', t."frozen" || jsonb_build_object('agreedColour', agreed_colour_of_head(t."frozen"), 'zones', zones_of_snapshot(t."frozen")), 'changeNote', t."changeNote", 'issuedBy', t."snapshot" -> 'issuedBy',
      'issuedAt', ${instant(sql`t."issuedAt"`)},
      'steps', (${steps}),
      'holds', (
        select coalesce(jsonb_agg(jsonb_build_object('id', h."id", 'reason', h."reason", 'placedBy', h."snapshot" -> 'placedBy',
                 'placedAt', ${instant(sql`h."placedAt"`)}) order by h."id"), '[]'::jsonb)
          from "lot_hold" h
         where h."lotId" = l."id" and h."releasedAt" is null)) as "traveler"
    from "traveler" t
    join "lot" l on l."id" = t."lotId"`;

async function one(execute: SqlExecutor, where: Prisma.Sql): Promise<Traveler | null> {
  const [row] = await execute<{ traveler: Traveler }>(sql`${whole} ${where}`);
  if (row === undefined) return null;
  return withEvidence(execute, await withInstruments(execute, await withBathStatus(execute, row.traveler)));
}

/** Steps that are still to be signed show what reads their figures at their tank and of their supply. */
async function withInstruments(execute: SqlExecutor, traveler: Traveler): Promise<Traveler> {
  if (traveler.status !== 'issued') return traveler;
  const open = traveler.steps.filter(({ signOff: signed }) => signed === null);
  const placed = await readPlaced(execute, {
    tankIds: open.flatMap(({ tank }) => tank?.id ?? []),
    supplyIds: open.flatMap(({ supply }) => supply?.id ?? []),
  });
  const instrumentsOf = ({ tank, supply, record }: Traveler['steps'][number]) =>
    placed
      .filter(
        ({ tankId, supplyId, quantity }) =>
          record.includes(quantity) && (tankId === null ? supplyId === supply?.id : tankId === tank?.id),
      )
      .map(({ tankId: _tank, supplyId: _supply, ...instrument }) => instrument);
  return {
    ...traveler,
    steps: traveler.steps.map((step) =>
      open.includes(step) ? { ...step, instruments: instrumentsOf(step) } : step,
    ),
  };
}

/** Colour steps that are still to be signed show whether the recipe is proved on the part, and whose word was given. */
async function withEvidence(execute: SqlExecutor, traveler: Traveler): Promise<Traveler> {
  const isOpen = ({ signOff: signed, kind }: Traveler['steps'][number]) =>
    signed === null && (kind === 'colour' || kind === 'anodize');
  if (traveler.status !== 'issued' || !traveler.steps.some(isOpen)) return traveler;
  const [wanted] = await execute<{
    recipeRevisionId: number;
    materialId: number;
    partId: number;
    alloy: { name: string; condition: string; baseMetal: string };
    lotId: number;
  }>(sql`
    select t."recipeRevisionId", p."materialId", l."partId", l."snapshot" -> 'part' -> 'material' as "alloy", t."lotId" from "traveler" t
      join "lot" l on l."id" = t."lotId" join "part" p on p."id" = l."partId" where t."id" = ${traveler.id}`);
  if (wanted === undefined) return traveler;
  const [[verdict], allowed] = await Promise.all([
    judgeEvidence(execute, [wanted]),
    readSignatureWord(execute, wanted),
  ]);
  const evidence = verdict === undefined ? null : { verdict, allowed };
  return { ...traveler, steps: traveler.steps.map((step) => (isOpen(step) ? { ...step, evidence } : step)) };
}

/** Steps that are still to be signed show how the bath in their tank stands now. */
async function withBathStatus(execute: SqlExecutor, traveler: Traveler): Promise<Traveler> {
  if (traveler.status !== 'issued') return traveler;
  const status = await statusOfTanks(execute, [
    ...new Set(traveler.steps.flatMap(({ tank }) => tank?.id ?? [])),
  ]);
  const bathStatus = ({ signOff: signed, tank }: Traveler['steps'][number]) =>
    signed === null && tank !== null ? (status.get(tank.id) ?? null) : null;
  return { ...traveler, steps: traveler.steps.map((step) => ({ ...step, bathStatus: bathStatus(step) })) };
}

export const readTraveler = (execute: SqlExecutor, id: number) => one(execute, sql`where t."id" = ${id}`);
/** The traveler a lot is worked by now: the issued one, else the last. */
export const readCurrentTraveler = (execute: SqlExecutor, lotId: number) =>
  one(execute, sql`where t."lotId" = ${lotId} order by t."status" = 'issued' desc, t."id" desc limit 1`);
/** Every traveler of a lot, oldest first. */
export const readTravelersOfLot = async (execute: SqlExecutor, lotId: number): Promise<Traveler[]> =>
  (await execute<{ traveler: Traveler }>(sql`${whole} where t."lotId" = ${lotId} order by t."id"`)).map(
    (row) => row.traveler,
  );

export async function readTravelerByNumber(execute: SqlExecutor, number: string) {
  return execute<{
    id: number;
    number: string;
    revision: number;
    status: z.output<typeof TravelerStatus>;
    lotId: number;
  }>(
    sql`select "id", "number", "revision", "status", "lotId" from "traveler" where "number" = ${number} order by "revision"`,
  );
}

/** `L-00093` as somebody says it: `l93`. */
const bareNumber = (number: Prisma.Sql) =>
  sql`regexp_replace(lower(${number}), '^([a-z]+)[^a-z0-9]*0*', '\\1')`;

/** The next unsigned step of every lot on the floor. */
export async function readReadySteps(
  execute: SqlExecutor,
  filter: { tankId?: number | undefined; words: string; said: string | null },
) {
  const { words, said } = filter;
  const like = containing(words);
  const ready = await execute<Omit<z.input<typeof ReadyStep>, 'bathStatus'>>(sql`
    select l."id" as "lotId", l."number" as "lotNumber", t."number" as "travelerNumber", t."revision" as "travelerRevision",
           t."kind", t."frozen" -> 'customer' ->> 'name' as "customer",
           concat_ws(' ', t."frozen" -> 'part' ->> 'number', 'rev', t."frozen" -> 'part' ->> 'revision') as "part",
           t."quantity" - r."rejected" as "quantity", l."dueDate"::text as "dueDate", l."priority", l."held",
           n."id" as "stepId", n."position", n."stepCount", n."kind" as "stepKind", n."title", n."durationS",
           n."snapshot" -> 'tank' as "tank"
      from "lot" l
      join "traveler" t on t."lotId" = l."id" and t."status" = 'issued'
      cross join lateral (
        select st.*, (select count(*)::int from "traveler_step" a where a."travelerId" = t."id") as "stepCount"
          from "traveler_step" st
         where st."travelerId" = t."id" and st."carriedSignOffId" is null
           and not exists (select 1 from "step_sign_off" s where s."stepId" = st."id")
         order by st."position" limit 1) n
      cross join lateral (
        select coalesce(sum(s."rejectCount"), 0)::int as "rejected"
          from "traveler_step" st join "step_sign_off" s on s."stepId" = st."id" or s."id" = st."carriedSignOffId"
         where st."travelerId" = t."id") r
     where l."status" in ('released', 'running')
       ${filter.tankId === undefined ? Prisma.empty : sql`and n."tankId" = ${filter.tankId}`}
       ${words ? sql`and (l."number" ilike ${like} or ${bareNumber(sql`l."number"`)} = ${said} or ${bareNumber(sql`t."number"`)} = ${said} or t."number" ilike ${like} or t."frozen" -> 'part' ->> 'number' ilike ${like} or t."frozen" -> 'customer' ->> 'name' ilike ${like})` : Prisma.empty}
     order by l."held", l."priority" desc, l."dueDate", l."id"
     limit 500`);
  const status = await statusOfTanks(execute, [...new Set(ready.flatMap(({ tank }) => tank?.id ?? []))]);
  return ready.map((step) => ({
    ...step,
    bathStatus: step.tank === null ? null : (status.get(step.tank.id) ?? null),
  }));
}

export interface NewTraveler {
  number: string;
  revision: number;
  lotId: number;
  kind: 'first' | 'rework';
  reworkOfId: number | null;
  quantity: number;
  recipeRevisionId: number;
  frozen: TravelerHead;
  changeNote: string;
  issuedById: number;
  steps: NewTravelerStep[];
}
export interface NewTravelerStep {
  position: number;
  kind: string;
  title: string;
  instructions: string;
  contents: string | null;
  tankId: number | null;
  supplyId: number | null;
  durationS: number;
  dripS: number;
  settings: StepSetting[];
  electrical: Electrical | null;
  load: { loadAreaMm2: number; peakCurrentA: number; steadyCurrentA: number } | null;
  cautions: string[];
  record: string[];
  carriedSignOffId: number | null;
}

const json = (value: object | null) => (value === null ? Prisma.DbNull : (value as Prisma.InputJsonObject));

export const addTraveler = (db: Queryable, options: NewTraveler) =>
  db.prisma.traveler.create({
    data: {
      ...options,
      frozen: options.frozen,
      steps: {
        create: options.steps.map((step) => ({
          ...step,
          settings: step.settings,
          electrical: json(step.electrical),
          load: json(step.load),
        })),
      },
    },
    select: { id: true },
  });

export const setTravelerStatus = (
  execute: SqlExecutor,
  { status, id }: { id: number; status: 'superseded' | 'cancelled' | 'complete' },
) => execute(sql`update "traveler" set "status" = ${status} where "id" = ${id}`);

/** Everything about a lot that a traveler is made of. `null` when there is no such lot. */
export async function readLotFacts(execute: SqlExecutor, lotId: number) {
  const [row] = await execute<LotFacts>(sql`
    select l."id", l."number", l."quantity", l."status", l."held", l."dueDate"::text as "dueDate", l."priority", l."tanks",
           l."rackId", l."supplyId", l."recipeRevisionId",
           (select count(*)::int from "lot" x where x."orderLineId" = l."orderLineId" and x."status" <> 'cancelled') as "ofLots",
           ol."position" as "linePosition", ol."quantity" as "ordered", ol."receivedCount", ol."certificate", ol."inspectionLevel",
           o."number" as "orderNumber", o."customerOrderNumber", o."snapshot" -> 'customer' as "customer", l."snapshot" -> 'part' || jsonb_build_object('agreedColour', agreed_colour_of_part(l."snapshot" -> 'part'), 'zones', zones_of_snapshot(l."snapshot" -> 'part')) as "part", to_jsonb(rk) as "rack", to_jsonb(u) as "supply"
      from "lot" l
      join "order_line" ol on ol."id" = l."orderLineId"
      join "customer_order" o on o."id" = ol."orderId"
      left join "rack" rk on rk."id" = l."rackId"
      left join "power_supply" u on u."id" = l."supplyId"
     where l."id" = ${lotId}`);
  return row ?? null;
}
export interface LotFacts {
  id: number;
  number: string;
  quantity: number;
  status: string;
  held: boolean;
  dueDate: string;
  priority: number;
  tanks: { position: number; tankId: number }[];
  rackId: number | null;
  supplyId: number | null;
  recipeRevisionId: number;
  ofLots: number;
  linePosition: number;
  ordered: number;
  receivedCount: number | null;
  certificate: boolean;
  inspectionLevel: string;
  orderNumber: string;
  customerOrderNumber: string;
  customer: { number: string; name: string };
  part: Prisma.PartGetPayload<object> & {
    agreedColour: AgreedColour | null;
    zones: PartZone[];
    material: { name: string; condition: string; baseMetal: string };
  };
  rack: { code: string; name: string; baseMetal: string; bareAreaMm2: number; hooks: number | null } | null;
  supply: { code: string; name: string; maxVoltageV: number; maxCurrentA: number } | null;
}

/** The steps of a recipe revision with its names. */
export async function readRoute(execute: SqlExecutor, recipeRevisionId: number) {
  const [revision] = await execute<{
    number: string;
    name: string;
    revision: number;
    status: string;
    selfApproved: boolean;
    recipeId: number;
  }>(sql`
    select re."number", re."name", rr."revision", rr."status", rr."selfApproved", re."id" as "recipeId"
      from "recipe_revision" rr join "recipe" re on re."id" = rr."recipeId" where rr."id" = ${recipeRevisionId}`);
  if (revision === undefined) return null;
  const routeSteps = await execute<RouteStep>(sql`
    select "position", "kind", "title", "instructions", "contents", "durationS", "dripS", "settings", "electrical", "cautions", "record"
      from "recipe_step" where "revisionId" = ${recipeRevisionId} order by "position"`);
  return { ...revision, steps: routeSteps };
}
export type RouteStep = Omit<NewTravelerStep, 'tankId' | 'supplyId' | 'load' | 'carriedSignOffId'>;

/** The final checks of what came off a traveler, oldest first. */
export const readFinalChecks = (execute: SqlExecutor, travelerId: number) =>
  execute<{
    acceptedCount: number;
    rejectedCount: number;
    reworkCount: number;
    reason: string;
    checkedBy: string;
    checkedAt: string;
  }>(sql`
    select f."acceptedCount", f."rejectedCount", f."reworkCount", f."reason", f."snapshot" ->> 'checkedBy' as "checkedBy",
           ${instant(sql`f."checkedAt"`)} as "checkedAt"
      from "final_check" f where f."travelerId" = ${travelerId} order by f."id"`);

/** The shop that issued a traveler, as it was then where that was kept, and who issued it. The row is kept still for the transaction. */
export async function lockIssue(execute: SqlExecutor, id: number) {
  const [row] = await execute<{
    shop: { name: string; timeZone: string; units: 'metric' | 'us' };
    issuedById: number;
  }>(
    sql`select coalesce("snapshot" -> 'shop', snapshot_of('shop', 1)) as "shop", "issuedById" from "traveler" where "id" = ${id} for no key update`,
  );
  return row ?? null;
}
