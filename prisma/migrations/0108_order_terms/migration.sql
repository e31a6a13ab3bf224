-- What was done and went out was done at these terms: price, quantity, part, recipe and date of a line stay from the first
-- shipment on, and when every piece of it is accounted for.
create function order_line_frozen() returns trigger language plpgsql as $$
declare
  terms text[] := array['quantity', 'totalPrice', 'unitPrice', 'dueDate', 'partId', 'recipeRevisionId', 'quotationLineId',
    'rackId', 'supplyId', 'certificate', 'inspectionLevel', 'cancelledAt'];
  shipped integer;
  gone integer;
begin
  select coalesce(sum("shippedCount"), 0), coalesce(sum("shippedCount" + "rejectedCount"), 0) into shipped, gone
    from "lot" where "orderLineId" = old."id" and "status" <> 'cancelled';
  if (shipped > 0 or gone >= old."quantity") and (tg_op = 'DELETE' or exists (
    select 1 from unnest(terms) t ("name") where to_jsonb(new) -> t."name" is distinct from to_jsonb(old) -> t."name"))
  then
    raise exception 'pieces of line % are shipped: its terms stay as they were', old."position" using errcode = 'HU001';
  end if;
  return case when tg_op = 'DELETE' then old else new end;
end $$;
create trigger order_line_frozen before update or delete on "order_line"
  for each row execute function order_line_frozen();
