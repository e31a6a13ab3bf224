import type { Lab, Step } from '@huelot/contracts';
import { sql, type SqlExecutor } from '../../db/client.ts';

export interface MeasuredRow {
  calibrationId: number;
  at: Date;
  source: 'coupon' | 'lot';
  label: string;
  recordId: number;
  /** As it was read at the tank; null where nobody read it. */
  voltageV: number | null;
  /** What its step asked for; null of a coupon. */
  step: Pick<Step, 'settings' | 'electrical'> | null;
  lab: Lab;
}

/**
 * Colours measured since calibrations were approved, on their material and in their kind of bath, by time: coupons of other
 * series that were approved, and lots. Only what was read as the coupons were: D65, 2 degree, specular included.
 */
export const readMeasured = (execute: SqlExecutor, calibrationIds: readonly number[]) =>
  execute<MeasuredRow>(sql`
    select c."id" as "calibrationId", x.*
      from "calibration" c
      cross join lateral (
        select t."madeOn"::timestamp at time zone (select "timeZone" from "shop") as "at", 'coupon' as "source",
               concat_ws(' ', s."code", coalesce(nullif(t."mark", ''), 'no. ' || t."position")) as "label", s."id" as "recordId",
               t."voltageV", null::jsonb as "step",
               jsonb_build_object('L', t."labL", 'a', t."labA", 'b', t."labB") as "lab"
          from "coupon_trial" t join "coupon_series" s on s."id" = t."seriesId"
         where s."status" = 'approved' and s."materialId" = c."materialId" and s."contents" = c."contents"
           and not s."id" = any (c."seriesIds") and t."madeOn" >= (c."approvedAt" at time zone (select "timeZone" from "shop"))::date
           and t."outcome" = 'interference' and t."voltageV" is not null and t."labL" is not null
           and coalesce(t."grade", 'measured') in ('measured', 'compared')
           -- A later revision of a series holds the coupons of the one before.
           and not exists (
             select from jsonb_array_elements(c."coupons") k
              where k ->> 'mark' = t."mark" and (k ->> 'voltageV')::float8 = t."voltageV" and (k -> 'lab' ->> 'L')::float8 = t."labL")
        union all
        select r."readAt", 'lot', l."number", l."id",
               coalesce((select k."newValue" from "step_correction" k
                          where k."signOffId" = s."id" and k."quantity" = 'voltageV' order by k."id" desc limit 1),
                 (select v."value" from "step_reading" v where v."signOffId" = s."id" and v."quantity" = 'voltageV')),
               jsonb_build_object('settings', st."settings", 'electrical', st."electrical"),
               jsonb_build_object('L', r."labL", 'a', r."labA", 'b', r."labB")
          from "colour_reading" r
          join "lot" l on l."id" = r."lotId"
          join "step_sign_off" s on s."id" = r."colourSignOffId" and s."materialId" = c."materialId"
          join "traveler_step" st on st."id" = s."stepId" and st."contents" = c."contents"
         where r."readAt" > c."approvedAt" and r."labL" is not null and r."grade" in ('measured', 'compared')
           and r."conditions" ->> 'illuminant' = 'D65' and r."conditions" ->> 'observerDeg' = '2'
           and r."conditions" ->> 'geometry' in ('d8-included', 'unstated')
           and not r."withdrawn" and not exists (select from "colour_reading" n where n."correctsId" = r."id")
      ) x
     where c."id" = any (${[...calibrationIds]}::int[]) and c."approvedAt" is not null
     order by x."at", x."source", x."recordId", x."label" limit 20000`);
