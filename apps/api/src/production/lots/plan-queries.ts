import type { BaseMetal, Electrical, StepKind, TankContents } from '@huelot/contracts';
import { sql, type SqlExecutor } from '../../db/client.ts';

export interface RouteStepFacts {
  position: number;
  kind: StepKind;
  title: string;
  contents: TankContents | null;
  durationS: number;
  settings: { quantity: string; target: number | null; low: number | null; high: number | null }[];
  electrical: Electrical | null;
}
export interface TankFacts {
  id: number;
  code: string;
  name: string;
  contents: TankContents;
  insideLengthMm: number;
  insideWidthMm: number;
  insideDepthMm: number;
  workingVolumeL: number;
  coolerKw: number;
  temperatureMinC: number | null;
  temperatureMaxC: number | null;
  hasBath: boolean;
  /** Why a step in its bath takes an override now. */
  bathDoubt?: string;
  /** It is past a stop limit. */
  bathIsStopped?: boolean;
  supplyIds: number[];
}
export interface RackFacts {
  id: number;
  code: string;
  name: string;
  baseMetal: BaseMetal;
  hooks: number | null;
  windowWidthMm: number;
  windowHeightMm: number;
  layers: number;
  gapMm: number;
  maxLoadKg: number;
  massKg: number;
  bareAreaMm2: number;
}
export interface SupplyFacts {
  id: number;
  code: string;
  name: string;
  maxVoltageV: number;
  maxCurrentA: number;
}
export interface LineFacts {
  id: number;
  orderId: number;
  orderNumber: string;
  orderStatus: string;
  position: number;
  cancelled: boolean;
  quantity: number;
  receivedCount: number | null;
  dueDate: string;
  rackId: number | null;
  supplyId: number | null;
  inLots: number;
  partId: number;
  materialId: number;
  recipeNumber: string;
  baseMetal: BaseMetal;
  areaMm2: number;
  electricalAreaMm2: number;
  massKg: number | null;
  widthMm: number | null;
  heightMm: number | null;
  recipeRevisionId: number;
  recipeStatus: string;
  steps: RouteStepFacts[];
  racks: RackFacts[];
  supplies: SupplyFacts[];
  tanks: TankFacts[];
}

/** Locks a line, so that two planners never release the same pieces. */
export const lockLine = (execute: SqlExecutor, lineId: number) =>
  execute(sql`select 1 from "order_line" where "id" = ${lineId} for update`);

/** Everything a load plan is made from, in one statement; `null` when there is no such line. */
export async function readLineFacts(execute: SqlExecutor, lineId: number): Promise<LineFacts | null> {
  const [row] = await execute<LineFacts>(sql`
    select ol."id", ol."orderId", o."number" as "orderNumber", o."status" as "orderStatus", ol."position",
           ol."cancelledAt" is not null as "cancelled", ol."quantity", ol."receivedCount", ol."dueDate"::text as "dueDate",
           ol."rackId", ol."supplyId",
           (select coalesce(sum(l."quantity"), 0)::int from "lot" l where l."orderLineId" = ol."id" and l."status" <> 'cancelled') as "inLots",
           p."id" as "partId", m."id" as "materialId", re."number" as "recipeNumber", m."baseMetal", p."areaMm2", p."electricalAreaMm2", p."massKg", p."widthMm", p."heightMm",
           ol."recipeRevisionId", rr."status" as "recipeStatus",
           (select coalesce(jsonb_agg(jsonb_build_object('position', s."position", 'kind', s."kind", 'title', s."title",
                     'contents', s."contents", 'durationS', s."durationS", 'settings', s."settings", 'electrical', s."electrical")
                     order by s."position"), '[]'::jsonb)
              from "recipe_step" s where s."revisionId" = ol."recipeRevisionId") as "steps",
           (select coalesce(jsonb_agg(to_jsonb(r) order by r."code"), '[]'::jsonb) from "rack" r where r."archivedAt" is null) as "racks",
           (select coalesce(jsonb_agg(to_jsonb(u) order by u."code"), '[]'::jsonb) from "power_supply" u where u."archivedAt" is null) as "supplies",
           (select coalesce(jsonb_agg(to_jsonb(k) || jsonb_build_object(
                     'hasBath', exists (select 1 from "bath" b where b."tankId" = k."id" and b."dumpedAt" is null),
                     'supplyIds', (select coalesce(jsonb_agg(x."supplyId"), '[]'::jsonb) from "power_supply_tank" x where x."tankId" = k."id"))
                     order by k."lineOrder", k."code"), '[]'::jsonb)
              from "tank" k where k."archivedAt" is null) as "tanks"
      from "order_line" ol
      join "customer_order" o on o."id" = ol."orderId"
      join "part" p on p."id" = ol."partId"
      join "material" m on m."id" = p."materialId"
      join "recipe_revision" rr on rr."id" = ol."recipeRevisionId"
      join "recipe" re on re."id" = rr."recipeId"
     where ol."id" = ${lineId}`);
  return row ?? null;
}
