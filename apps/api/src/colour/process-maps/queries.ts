import type { ProcessMap, ProcessMapItem } from '@huelot/contracts';
import { sql, type SqlExecutor } from '../../db/client.ts';

/** Series that count on a map: the approved revision of a code, and its draft where it has one. */
const mapped = sql`
  select s."id", s."code", s."revision", s."status", s."preparation", s."materialId", s."contents", s."component", s."unit",
         s."referenceTemperatureC", coalesce(s."snapshot" -> 'material', snapshot_of('material', s."materialId")) as "material"
    from "coupon_series" s where s."status" in ('approved', 'draft')`;

/** Every ground with a trial that somebody has looked at. */
export const readGrounds = (execute: SqlExecutor) =>
  execute<ProcessMapItem>(sql`
    select min(s."id") as "id", (array_agg(s."material" order by s."id" desc))[1] as "material", s."contents", s."component", s."unit",
           s."referenceTemperatureC", count(*)::int as "seriesCount", sum(t."trials")::int as "trialCount"
      from (${mapped}) s
      join lateral (select count(*) as "trials" from "coupon_trial" c where c."seriesId" = s."id" and c."outcome" is not null) t on t."trials" > 0
     group by s."materialId", s."contents", s."component", s."unit", s."referenceTemperatureC"
     order by "trialCount" desc, "id" limit 200`);

type GroundRow = Omit<ProcessMap, 'series' | 'trials' | 'boxes'> & { series: ProcessMap['series'] };

/** The ground that a series lies on, with every series on it; null where there is no such series. */
export const readGround = async (execute: SqlExecutor, id: number): Promise<GroundRow | null> =>
  (
    await execute<GroundRow>(sql`
      select g."id", coalesce(g."snapshot" -> 'material', snapshot_of('material', g."materialId")) as "material", g."contents", g."component",
             g."unit", g."referenceTemperatureC",
             (select coalesce(jsonb_agg(jsonb_build_object('id', s."id", 'code', s."code", 'revision', s."revision", 'status', s."status",
                       'preparation', s."preparation") order by s."code", s."revision"), '[]'::jsonb)
                from (${mapped}) s
               where (s."materialId", s."contents", s."component", s."unit") = (g."materialId", g."contents", g."component", g."unit")
                 and s."referenceTemperatureC" is not distinct from g."referenceTemperatureC") as "series"
        from "coupon_series" g where g."id" = ${id}`)
  )[0] ?? null;
