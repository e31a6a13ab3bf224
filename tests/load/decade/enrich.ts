import type pg from 'pg';

/** What else a shop could read at its steps, and about what it would read: invented. */
const usual = [
  ['temperatureC', 24],
  ['durationS', 600],
  ['voltageV', 28],
  ['currentDensityAPerM2', 150],
  ['pH', 6.4],
  ['conductivitySPerM', 4.2],
  ['flowLPerH', 900],
] as const;

/**
 * Gives the signed steps of the present as many readings as a shop with instruments on its tanks keeps, about six a
 * step, and corrects a few of them. Call it before anything is grown, as the owner, with the triggers off.
 */
export async function readMore(client: pg.ClientBase): Promise<void> {
  for (const [quantity, about] of usual)
    await client.query(
      `insert into "step_reading" ("signOffId", "quantity", "value", "instrument")
       select s."id", $1, $2::float8 * (1 + 0.06 * (random() - 0.5)), '' from "step_sign_off" s
        where s."id" % 12 <> 0 and not exists (
          select from "step_reading" r where r."signOffId" = s."id" and r."quantity" = $1)`,
      [quantity, about],
    );
  await client.query(`
    insert into "step_correction" ("signOffId", "quantity", "oldValue", "newValue", "reason", "correctedById", "correctedAt", "snapshot")
    select r."signOffId", r."quantity", r."value", r."value" * 1.01, 'read off the wrong display', s."personId", s."enteredAt",
           jsonb_build_object('correctedBy', s."snapshot" -> 'person')
      from "step_reading" r join "step_sign_off" s on s."id" = r."signOffId"
     where r."quantity" = 'temperatureC' order by md5(r."id"::text) limit 5`);
}
