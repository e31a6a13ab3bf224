import type pg from 'pg';

/** What the triggers would have refused, as SQL that finds it. Foreign keys are looked up in the database and not here. */
const rules: Readonly<Record<string, string>> = {
  'a step is signed that its traveler does not have, or under another lot': `
    select 1 from "step_sign_off" s join "traveler_step" st on st."id" = s."stepId" join "traveler" t on t."id" = st."travelerId"
     where t."lotId" <> s."lotId"`,
  'a step was signed before its traveler was issued': `
    select 1 from "step_sign_off" s join "traveler_step" st on st."id" = s."stepId" join "traveler" t on t."id" = st."travelerId"
     where s."doneAt" < t."issuedAt" - interval '1 day'`,
  'a sign-off is of another part than its lot': `
    select 1 from "step_sign_off" s join "lot" l on l."id" = s."lotId" where s."partId" <> l."partId"`,
  'a step was done in a bath that was not there': `
    select 1 from "step_sign_off" s join "bath" b on b."id" = s."bathId"
     where s."doneAt" < b."madeUpAt" - interval '13 days' or s."doneAt" > b."dumpedAt" + interval '13 days'`,
  'a sample was taken of a bath that was not there': `
    select 1 from "analysis" a join "bath" b on b."id" = a."bathId" where a."sampledAt" < b."madeUpAt" or a."sampledAt" > b."dumpedAt"`,
  'a result lies at another instant or in another bath than its analysis': `
    select 1 from "analysis_result" r join "analysis" a on a."id" = r."analysisId"
     where r."sampledAt" <> a."sampledAt" or r."bathId" <> a."bathId"`,
  'a lot is of another part than its line, or that of another customer': `
    select 1 from "lot" l join "order_line" ol on ol."id" = l."orderLineId" join "customer_order" o on o."id" = ol."orderId"
      join "part" p on p."id" = l."partId" where ol."partId" <> l."partId" or p."customerId" <> o."customerId"`,
  'an order is of another customer than its quotation': `
    select 1 from "customer_order" o join "quotation_revision" r on r."id" = o."quotationRevisionId"
      join "quotation" q on q."id" = r."quotationId" where q."customerId" <> o."customerId"`,
  'more was put into lots than was ordered': `
    select 1 from "order_line" ol join "lot" l on l."orderLineId" = ol."id" where l."status" <> 'cancelled'
     group by ol."id" having sum(l."quantity") > ol."quantity"`,
  'more was shipped than leaves with the shipments': `
    select 1 from "lot" l where l."shippedCount" <> coalesce((select sum(s."quantity") from "shipment" s where s."lotId" = l."id"), 0)`,
  'a stock does not add up': `
    select 1 from (select "balanceKg", sum("kg") over (partition by "lotId" order by "id") as "kg" from "stock_movement") m
     where abs(m."balanceKg" - m."kg") > 1e-6`,
  'a reading is beyond a limit and does not say so': `
    select 1 from "step_reading" r where not r."outside" and (r."value" < r."low" or r."value" > r."high")`,
  'an entry of the audit trail is of a lot that is not there': `
    select 1 from "audit_entry" a where a."recordKind" = 'lot' and not exists (select from "lot" l where l."id" = a."recordId")`,
  'what was issued has no snapshot': `
    select 1 from "lot" where "snapshot" = '{}' union all select 1 from "step_sign_off" where "snapshot" = '{}'`,
};

/** Everything that is wrong with a database that was written with its triggers off: nothing, when all is well. */
export async function recheck(client: pg.ClientBase): Promise<string[]> {
  const wrong: string[] = [];
  const count = async (statement: string) =>
    Number((await client.query<{ n: string }>(`select count(*) as n from (${statement}) x`)).rows[0]?.n);
  const { rows: keys } = await client.query<{ child: string; column: string; parent: string; key: string }>(`
    select k.conrelid::regclass::text as child, a.attname as "column", k.confrelid::regclass::text as parent, b.attname as key
      from pg_constraint k
      join pg_attribute a on a.attrelid = k.conrelid and a.attnum = k.conkey[1]
      join pg_attribute b on b.attrelid = k.confrelid and b.attnum = k.confkey[1]
     where k.contype = 'f' and k.connamespace = 'public'::regnamespace`);
  for (const { child, column, parent, key } of keys) {
    const astray = await count(
      `select 1 from ${child} c where c."${column}" is not null and not exists (select from ${parent} p where p."${key}" = c."${column}")`,
    );
    if (astray > 0) wrong.push(`${astray} rows of ${child} refer by ${column} to no ${parent}`);
  }
  for (const [rule, statement] of Object.entries(rules)) {
    const broken = await count(statement);
    if (broken > 0) wrong.push(`${rule}: ${broken}`);
  }
  return wrong;
}
