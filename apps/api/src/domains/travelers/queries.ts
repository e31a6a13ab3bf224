import type {
  Electrical,
  ReadyStep,
  StepSetting,
  Traveler,
  TravelerHead,
  TravelerStatus,
} from '@huelot/contracts';
import type { z } from 'zod';
import { Prisma, sql, type Queryable, type Run } from '../../db/client.ts';
import { statusOfTanks } from '../baths/index.ts';

const instant = (column: Prisma.Sql) =>
  sql`to_char(${column} at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;

const signOff = sql`
  jsonb_build_object(
    'id', s."id", 'personId', s."personId", 'person', sp."displayName",
    'doneAt', ${instant(sql`s."doneAt"`)}, 'enteredAt', ${instant(sql`s."enteredAt"`)},
    'tank', case when sk."id" is null then null else jsonb_build_object('id', sk."id", 'code', sk."code") end,
    'bath', case when sb."id" is null then null else jsonb_build_object('id', sb."id", 'number', sb."number") end,
    'supply', case when su."id" is null then null else jsonb_build_object('id', su."id", 'code', su."code") end,
    'countIn', s."countIn", 'countOut', s."countOut", 'rejectCount', s."rejectCount",
    'outside', s."outside", 'reason', s."reason", 'note', s."note",
    'bathState', s."bathState", 'bathReasons', to_jsonb(coalesce(s."bathReasons", '{}')),
    'override', (select jsonb_build_object('by', op."displayName", 'reason', s."overrideReason")
                   from "person" op where op."id" = s."overrideById"),
    'readings', (
      select coalesce(jsonb_agg(jsonb_build_object('quantity', r."quantity", 'value', r."value", 'target', r."target",
               'low', r."low", 'high', r."high", 'outside', r."outside", 'instrument', r."instrument") order by r."id"), '[]'::jsonb)
        from "step_reading" r where r."signOffId" = s."id"),
    'corrections', (
      select coalesce(jsonb_agg(jsonb_build_object('id', c."id", 'quantity', c."quantity", 'oldValue', c."oldValue",
               'newValue', c."newValue", 'reason', c."reason", 'by', cp."displayName", 'at', ${instant(sql`c."correctedAt"`)}) order by c."id"), '[]'::jsonb)
        from "step_correction" c join "person" cp on cp."id" = c."correctedById" where c."signOffId" = s."id"))`;

const steps = sql`
  select coalesce(jsonb_agg(jsonb_build_object(
      'id', st."id", 'position', st."position", 'kind', st."kind", 'title', st."title", 'instructions', st."instructions",
      'contents', st."contents",
      'tank', case when k."id" is null then null else jsonb_build_object('id', k."id", 'code', k."code", 'name', k."name") end,
      'supply', case when u."id" is null then null else jsonb_build_object('id', u."id", 'code', u."code", 'name', u."name") end,
      'durationS', st."durationS", 'dripS', st."dripS", 'settings', st."settings", 'electrical', st."electrical",
      'load', st."load", 'cautions', to_jsonb(st."cautions"), 'record', to_jsonb(st."record"),
      'signOff', case when s."id" is null then null else ${signOff} end,
      'carried', st."carriedSignOffId" is not null, 'bathStatus', null) order by st."position"), '[]'::jsonb)
    from "traveler_step" st
    left join "tank" k on k."id" = st."tankId"
    left join "power_supply" u on u."id" = st."supplyId"
    left join "step_sign_off" s on s."id" = coalesce(st."carriedSignOffId", (select x."id" from "step_sign_off" x where x."stepId" = st."id"))
    left join "person" sp on sp."id" = s."personId"
    left join "tank" sk on sk."id" = s."tankId"
    left join "bath" sb on sb."id" = s."bathId"
    left join "power_supply" su on su."id" = s."supplyId"
   where st."travelerId" = t."id"`;

const whole = sql`
  select jsonb_build_object(
      'id', t."id", 'number', t."number", 'revision', t."revision", 'kind', t."kind", 'status', t."status",
      'lot', jsonb_build_object('id', l."id", 'number', l."number", 'status', l."status", 'held', l."held", 'version', l."version"),
      'reworkOf', (select jsonb_build_object('id', w."id", 'number', w."number", 'revision', w."revision") from "traveler" w where w."id" = t."reworkOfId"),
      'quantity', t."quantity", 'head', t."frozen", 'changeNote', t."changeNote", 'issuedBy', p."displayName",
      'issuedAt', ${instant(sql`t."issuedAt"`)},
      'steps', (${steps}),
      'holds', (
        select coalesce(jsonb_agg(jsonb_build_object('id', h."id", 'reason', h."reason", 'placedBy', hp."displayName",
                 'placedAt', ${instant(sql`h."placedAt"`)}) order by h."id"), '[]'::jsonb)
          from "lot_hold" h join "person" hp on hp."id" = h."placedById"
         where h."lotId" = l."id" and h."releasedAt" is null)) as "traveler"
    from "traveler" t
    join "lot" l on l."id" = t."lotId"
    join "person" p on p."id" = t."issuedById"`;

async function one(run: Run, where: Prisma.Sql): Promise<Traveler | null> {
  const [row] = await run<{ traveler: Traveler }>(sql`${whole} ${where}`);
  return row === undefined ? null : withBathStatus(run, row.traveler);
}

/** Steps that are still to be signed show how the bath in their tank stands now. */
async function withBathStatus(run: Run, traveler: Traveler): Promise<Traveler> {
  if (traveler.status !== 'issued') return traveler;
  const status = await statusOfTanks(run, [...new Set(traveler.steps.flatMap(({ tank }) => tank?.id ?? []))]);
  const bathStatus = ({ signOff: signed, tank }: Traveler['steps'][number]) =>
    signed === null && tank !== null ? (status.get(tank.id) ?? null) : null;
  return { ...traveler, steps: traveler.steps.map((step) => ({ ...step, bathStatus: bathStatus(step) })) };
}

export const readTraveler = (run: Run, id: number) => one(run, sql`where t."id" = ${id}`);
/** The traveler a lot is worked by now: the issued one, else the last. */
export const readCurrentTraveler = (run: Run, lotId: number) =>
  one(run, sql`where t."lotId" = ${lotId} order by t."status" = 'issued' desc, t."id" desc limit 1`);
/** Every traveler of a lot, oldest first. */
export const readTravelersOfLot = async (run: Run, lotId: number): Promise<Traveler[]> =>
  (await run<{ traveler: Traveler }>(sql`${whole} where t."lotId" = ${lotId} order by t."id"`)).map(
    (row) => row.traveler,
  );

export async function readTravelerByNumber(run: Run, number: string) {
  return run<{
    id: number;
    number: string;
    revision: number;
    status: z.output<typeof TravelerStatus>;
    lotId: number;
  }>(
    sql`select "id", "number", "revision", "status", "lotId" from "traveler" where "number" = ${number} order by "revision"`,
  );
}

/** The next unsigned step of every lot on the floor. */
export async function readReadySteps(
  run: Run,
  asked: { tankId?: number | undefined; search?: string | undefined },
) {
  const like = `%${asked.search ?? ''}%`;
  const ready = await run<Omit<z.input<typeof ReadyStep>, 'bathStatus'>>(sql`
    select l."id" as "lotId", l."number" as "lotNumber", t."number" as "travelerNumber", t."revision" as "travelerRevision",
           t."kind", t."frozen" -> 'customer' ->> 'name' as "customer",
           concat_ws(' ', t."frozen" -> 'part' ->> 'number', 'rev', t."frozen" -> 'part' ->> 'revision') as "part",
           t."quantity", l."dueDate"::text as "dueDate", l."priority", l."held",
           n."id" as "stepId", n."position", n."stepCount", n."kind" as "stepKind", n."title", n."durationS",
           case when k."id" is null then null else jsonb_build_object('id', k."id", 'code', k."code", 'name', k."name") end as "tank"
      from "lot" l
      join "traveler" t on t."lotId" = l."id" and t."status" = 'issued'
      cross join lateral (
        select st.*, (select count(*)::int from "traveler_step" a where a."travelerId" = t."id") as "stepCount"
          from "traveler_step" st
         where st."travelerId" = t."id" and st."carriedSignOffId" is null
           and not exists (select 1 from "step_sign_off" s where s."stepId" = st."id")
         order by st."position" limit 1) n
      left join "tank" k on k."id" = n."tankId"
     where l."status" in ('released', 'running')
       ${asked.tankId === undefined ? Prisma.empty : sql`and n."tankId" = ${asked.tankId}`}
       ${asked.search ? sql`and (l."number" ilike ${like} or t."number" ilike ${like} or t."frozen" -> 'part' ->> 'number' ilike ${like} or t."frozen" -> 'customer' ->> 'name' ilike ${like})` : Prisma.empty}
     order by l."held", l."priority" desc, l."dueDate", l."id"
     limit 500`);
  const status = await statusOfTanks(run, [...new Set(ready.flatMap(({ tank }) => tank?.id ?? []))]);
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

export const addTraveler = (db: Queryable, of: NewTraveler) =>
  db.prisma.traveler.create({
    data: {
      ...of,
      frozen: of.frozen,
      steps: {
        create: of.steps.map((step) => ({
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
  run: Run,
  of: { id: number; status: 'superseded' | 'cancelled' | 'complete' },
) => run(sql`update "traveler" set "status" = ${of.status} where "id" = ${of.id}`);

/** Everything about a lot that a traveler is made of. `null` when there is no such lot. */
export async function readLotFacts(run: Run, lotId: number) {
  const [row] = await run<LotFacts>(sql`
    select l."id", l."number", l."quantity", l."status", l."held", l."dueDate"::text as "dueDate", l."priority", l."tanks",
           l."rackId", l."supplyId", l."recipeRevisionId",
           (select count(*)::int from "lot" x where x."orderLineId" = l."orderLineId" and x."status" <> 'cancelled') as "ofLots",
           ol."position" as "linePosition", ol."quantity" as "ordered", ol."receivedCount", ol."certificate", ol."inspectionLevel",
           o."number" as "orderNumber", o."customerOrderNumber", c."number" as "customerNumber", c."name" as "customerName",
           to_jsonb(p) as "part", to_jsonb(m) as "material", to_jsonb(rk) as "rack", to_jsonb(u) as "supply"
      from "lot" l
      join "order_line" ol on ol."id" = l."orderLineId"
      join "customer_order" o on o."id" = ol."orderId"
      join "customer" c on c."id" = o."customerId"
      join "part" p on p."id" = l."partId"
      join "material" m on m."id" = p."materialId"
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
  customerNumber: string;
  customerName: string;
  part: Prisma.PartGetPayload<object>;
  material: { name: string; condition: string; baseMetal: string };
  rack: { code: string; name: string; baseMetal: string; bareAreaMm2: number; hooks: number | null } | null;
  supply: { code: string; name: string; maxVoltageV: number; maxCurrentA: number } | null;
}

/** The steps of a recipe revision with its names. */
export async function readRoute(run: Run, recipeRevisionId: number) {
  const [revision] = await run<{
    number: string;
    name: string;
    revision: number;
    status: string;
    recipeId: number;
  }>(sql`
    select re."number", re."name", rr."revision", rr."status", re."id" as "recipeId"
      from "recipe_revision" rr join "recipe" re on re."id" = rr."recipeId" where rr."id" = ${recipeRevisionId}`);
  if (revision === undefined) return null;
  const routeSteps = await run<RouteStep>(sql`
    select "position", "kind", "title", "instructions", "contents", "durationS", "dripS", "settings", "electrical", "cautions", "record"
      from "recipe_step" where "revisionId" = ${recipeRevisionId} order by "position"`);
  return { ...revision, steps: routeSteps };
}
export type RouteStep = Omit<NewTravelerStep, 'tankId' | 'supplyId' | 'load' | 'carriedSignOffId'>;

/** What stands on every paper of the shop. */
export async function readShopFacts(run: Run) {
  const [row] = await run<{ name: string; timeZone: string }>(
    sql`select "name", "timeZone" from "shop" where "id" = 1`,
  );
  return row ?? { name: '', timeZone: 'UTC' };
}
