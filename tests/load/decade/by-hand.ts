/*
 * What somebody would write for one question and nothing else: the rows of its page first, by the index that fits, then what
 * the page shows of them. The bench compares their keys with those that the service answers with.
 */
const statement = (text: string, ...values: unknown[]) => ({ text, values });

const traced = `
  select s."id", s."stepKind", s."doneAt", s."outside", s."snapshot", st."position", st."title", t."number", t."revision",
         t."frozen" -> 'customer' as "customer", t."frozen" -> 'recipe' as "recipe", l."id" as "lotId", l."number" as "lotNumber",
         l."snapshot" -> 'part' as "part",
         (select jsonb_agg(jsonb_build_object('quantity', r."quantity", 'value', r."value", 'corrected', c."value")) from "step_reading" r
            left join lateral (select x."newValue" as "value" from "step_correction" x
                                where x."signOffId" = r."signOffId" and x."quantity" = r."quantity" order by x."id" desc limit 1) c on true
           where r."signOffId" = s."id") as "readings"
    from page join "step_sign_off" s on s."id" = page."id"
    join "traveler_step" st on st."id" = s."stepId" join "traveler" t on t."id" = st."travelerId" join "lot" l on l."id" = s."lotId"
   order by s."doneAt" desc, s."id" desc`;

const listed = (choice: string) => `
  with page as materialized (select l."id" from "lot" l ${choice} limit 51)
  select l."id", l."number", l."status", l."held", l."quantity", l."dueDate", l."snapshot" -> 'part' as "part", o."snapshot" as "order",
         l."snapshot" -> 'recipe' ->> 'name' as "recipeName", t."signed", t."steps", t."next"
    from page join "lot" l on l."id" = page."id" join "order_line" ol on ol."id" = l."orderLineId" join "customer_order" o on o."id" = ol."orderId"
    left join lateral (
      select count(*) filter (where x."id" is not null or s."carriedSignOffId" is not null) as "signed", count(*) as "steps",
             (array_agg(s."title" order by s."position") filter (where x."id" is null and s."carriedSignOffId" is null))[1] as "next"
        from "traveler_step" s left join "step_sign_off" x on x."stepId" = s."id"
       where s."travelerId" = (select v."id" from "traveler" v where v."lotId" = l."id" order by v."status" = 'issued' desc, v."id" desc limit 1)) t on true`;

export const byHand = {
  traceAll: () =>
    statement(`with page as materialized (
      select "id" from "step_sign_off" order by "doneAt" desc, "id" desc limit 51) ${traced}`),
  /** What was read, and what was put right since: each by the index of its own figures. */
  traceRare: (quantity: string, low: number, high = Infinity) =>
    statement(
      `with page as materialized (
         select s."id" from "step_sign_off" s join (
           select r."signOffId" from "step_reading" r where r."quantity" = $1 and r."value" between $2::float8 and $3::float8
              and not exists (select from "step_correction" c where c."signOffId" = r."signOffId" and c."quantity" = r."quantity")
           union
           select c."signOffId" from "step_correction" c where c."quantity" = $1 and c."newValue" between $2::float8 and $3::float8
              and not exists (select from "step_correction" n where n."signOffId" = c."signOffId" and n."quantity" = c."quantity" and n."id" > c."id")
         ) m on m."signOffId" = s."id" order by s."doneAt" desc, s."id" desc limit 51) ${traced}`,
      quantity,
      low,
      high,
    ),
  findNumber: (number: string) =>
    statement(
      `select 'lot' as kind, "id", "number", "snapshot" -> 'part' ->> 'number' as title from "lot" where "number" = $1`,
      number,
    ),
  audit: () => statement(`select * from "audit_entry" order by "id" desc limit 51`),
  auditSearch: (words: string) =>
    statement(
      `select * from "audit_entry"
        where ("personName" || ' ' || "action" || ' ' || coalesce("recordNumber", '')) ilike '%' || $1 || '%' order by "id" desc limit 51`,
      words,
    ),
  lots: (choice: string) => statement(listed(choice)),
  lot: (id: number) =>
    statement(
      `select l.*, o."snapshot" as "order", ol."position",
              (select jsonb_agg(to_jsonb(t) - 'frozen' || jsonb_build_object('steps', (
                 select jsonb_build_array(count(*), count(x."id")) from "traveler_step" s left join "step_sign_off" x on x."stepId" = s."id"
                  where s."travelerId" = t."id"))) from "traveler" t where t."lotId" = l."id") as "travelers",
              (select jsonb_agg(h) from "lot_hold" h where h."lotId" = l."id") as "holds",
              (select jsonb_agg(f) from "final_check" f where f."lotId" = l."id") as "checks",
              (select jsonb_agg(s) from "shipment" s where s."lotId" = l."id") as "shipments"
         from "lot" l join "order_line" ol on ol."id" = l."orderLineId" join "customer_order" o on o."id" = ol."orderId"
        where l."id" = $1`,
      id,
    ),
  ordersDue: () =>
    statement(`
      with due as materialized (
        select "orderId" as "id", min("dueDate") as "day" from "order_line" where "cancelledAt" is null group by 1 order by 2, 1 limit 51)
      select o."id", o."number", o."status", o."currency", o."createdAt", o."snapshot", due."day",
             (select jsonb_build_array(count(*), sum("quantity"), sum("totalPrice")) from "order_line" l where l."orderId" = o."id" and l."cancelledAt" is null),
             (select sum(t."shippedCount") from "order_line" l join "lot" t on t."orderLineId" = l."id" where l."orderId" = o."id")
        from due join "customer_order" o on o."id" = due."id" order by due."day", o."id"`),
  quotationsDraft: () =>
    statement(`
      select q."id", q."number", c."name", r."revision", r."currency", r."validUntil", q."createdAt", t.*
        from "quotation_revision" r join "quotation" q on q."id" = r."quotationId" join "customer" c on c."id" = q."customerId"
        cross join lateral (
          select count(distinct l."id"), min(b."totalPrice"), max(b."totalPrice")
            from "quotation_line" l left join "quotation_break" b on b."lineId" = l."id" where l."revisionId" = r."id") t
       where r."status" = 'draft' order by q."id" desc limit 51`),
  analysesOf: (state: string) =>
    statement(
      `select a."id", a."number", a."sampledAt", a."snapshot"
         from "analysis" a where a."id" in (select "analysisId" from "analysis_result" where "state" = $1)
        order by a."sampledAt" desc, a."id" desc limit 51`,
      state,
    ),
};
