-- What an issued record shows is copied into it by the database when it is issued. Parts, materials, customers, people,
-- equipment and the shop may change afterwards; the record shows what it showed then.

-- What a record may show of one row of the living data. Readers call it for drafts too, so both have one shape.
create function snapshot_of(kind text, id integer) returns jsonb language sql stable as $$
  select case kind
    when 'person' then (select to_jsonb(x."displayName") from "person" x where x."id" = $2)
    when 'shop' then (
      select jsonb_build_object('name', x."name", 'address', x."address", 'contact', x."contact", 'timeZone', x."timeZone")
        from "shop" x)
    when 'customer' then (
      select jsonb_build_object('id', x."id", 'number', x."number", 'name', x."name",
               'address', coalesce((select a."lines" from "customer_address" a where a."customerId" = x."id"
                                     order by a."kind" <> 'billing', a."position" limit 1), ''))
        from "customer" x where x."id" = $2)
    when 'part' then (
      select to_jsonb(x) - array['geometry', 'notes', 'customerId', 'materialId', 'areaFoundById', 'successorId', 'archivedAt', 'createdAt', 'version']
             || jsonb_build_object(
                  'areaFoundAt', to_char(x."areaFoundAt" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"'),
                  'areaFoundBy', snapshot_of('person', x."areaFoundById"),
                  'material', jsonb_build_object('id', m."id", 'name', m."name", 'condition', m."condition", 'baseMetal', m."baseMetal"))
        from "part" x join "material" m on m."id" = x."materialId" where x."id" = $2)
    when 'recipe' then (
      select jsonb_build_object('recipeId', re."id", 'revisionId', x."id", 'number', re."number", 'name', re."name",
               'revision', x."revision", 'colour', re."colour")
        from "recipe_revision" x join "recipe" re on re."id" = x."recipeId" where x."id" = $2)
    when 'rack' then (
      select jsonb_build_object('id', x."id", 'code', x."code", 'name', x."name") from "rack" x where x."id" = $2)
    when 'supply' then (
      select jsonb_build_object('id', x."id", 'code', x."code", 'name', x."name") from "power_supply" x where x."id" = $2)
    when 'tank' then (
      select jsonb_build_object('id', x."id", 'code', x."code", 'name', x."name") from "tank" x where x."id" = $2)
    when 'bath' then (
      select jsonb_build_object('id', x."id", 'number', x."number") from "bath" x where x."id" = $2)
  end
$$;

-- Takes what its arguments name, each `key kind column`: once, or again whenever the column names another row where it
-- ends in `again`. Nobody writes a snapshot by hand. The triggers are called `write_snapshot` so that they come after
-- those that refuse changes: triggers of a table run in the order of their names.
create function take_snapshot() returns trigger language plpgsql as $$
declare
  argument text;
  item text[];
  named integer;
begin
  if tg_op = 'INSERT' then
    new."snapshot" := '{}';
  elsif new."snapshot" is distinct from old."snapshot" then
    raise exception 'what a record showed when it was issued cannot be changed' using errcode = 'HU001';
  end if;
  foreach argument in array tg_argv loop
    item := string_to_array(argument, ' ');
    execute format('select ($1).%I', item[3]) into named using new;
    if tg_op = 'INSERT' or not new."snapshot" ? item[1] then
      if named is not null then
        new."snapshot" := new."snapshot" || jsonb_build_object(item[1], snapshot_of(item[2], named));
      end if;
    elsif item[4] = 'again' and named is distinct from ((to_jsonb(old) ->> item[3])::integer) then
      new."snapshot" := case when named is null then new."snapshot" - item[1]
        else new."snapshot" || jsonb_build_object(item[1], snapshot_of(item[2], named)) end;
    end if;
  end loop;
  return new;
end $$;

-- A quotation revision is a draft until it is sent; then it keeps its sender, its addressee and all that its lines name.
create function snapshot_at_sending() returns trigger language plpgsql as $$
begin
  if new."status" <> 'draft' and not new."snapshot" ? 'lines' then
    -- Whoever edits one of its parts now waits, and then finds the part used.
    perform 1 from "part" p where p."id" in (select l."partId" from "quotation_line" l where l."revisionId" = new."id")
      order by p."id" for share;
    new."snapshot" := new."snapshot" || jsonb_build_object(
      'shop', snapshot_of('shop', 1),
      'customer', (select snapshot_of('customer', q."customerId") from "quotation" q where q."id" = new."quotationId"),
      'lines', (
        select coalesce(jsonb_object_agg(l."id", jsonb_strip_nulls(jsonb_build_object(
                 'part', snapshot_of('part', l."partId"), 'recipe', snapshot_of('recipe', l."recipeRevisionId"),
                 'rack', snapshot_of('rack', l."rackId"), 'supply', snapshot_of('supply', l."supplyId")))), '{}')
          from "quotation_line" l where l."revisionId" = new."id"));
  end if;
  return new;
end $$;

alter table "quotation_revision" add column "snapshot" jsonb not null default '{}';
alter table "customer_order" add column "snapshot" jsonb not null default '{}';
alter table "order_line" add column "snapshot" jsonb not null default '{}';
alter table "lot" add column "snapshot" jsonb not null default '{}';
alter table "lot_hold" add column "snapshot" jsonb not null default '{}';
alter table "final_check" add column "snapshot" jsonb not null default '{}';
alter table "shipment" add column "snapshot" jsonb not null default '{}';
alter table "traveler" add column "snapshot" jsonb not null default '{}';
alter table "traveler_step" add column "snapshot" jsonb not null default '{}';
alter table "step_sign_off" add column "snapshot" jsonb not null default '{}';
alter table "step_correction" add column "snapshot" jsonb not null default '{}';

-- Records from before this point show what can still be known: the living data of today and, of lots, what stood on
-- their first traveler.
alter table "quotation_revision" disable trigger user;
update "quotation_revision" r set "snapshot" = jsonb_strip_nulls(jsonb_build_object(
  'createdBy', snapshot_of('person', r."createdById"), 'sentBy', snapshot_of('person', r."sentById"),
  'decidedBy', snapshot_of('person', r."decidedById")));
update "quotation_revision" r set "snapshot" = r."snapshot" || jsonb_build_object(
    'shop', snapshot_of('shop', 1), 'customer', snapshot_of('customer', q."customerId"),
    'lines', (
      select coalesce(jsonb_object_agg(l."id", jsonb_strip_nulls(jsonb_build_object(
               'part', snapshot_of('part', l."partId"), 'recipe', snapshot_of('recipe', l."recipeRevisionId"),
               'rack', snapshot_of('rack', l."rackId"), 'supply', snapshot_of('supply', l."supplyId")))), '{}')
        from "quotation_line" l where l."revisionId" = r."id"))
  from "quotation" q where q."id" = r."quotationId" and r."status" <> 'draft';
alter table "quotation_revision" enable trigger user;
update "customer_order" x set "snapshot" = jsonb_build_object(
  'customer', snapshot_of('customer', x."customerId"), 'createdBy', snapshot_of('person', x."createdById"));
update "order_line" x set "snapshot" = jsonb_strip_nulls(jsonb_build_object(
  'part', snapshot_of('part', x."partId"), 'recipe', snapshot_of('recipe', x."recipeRevisionId"),
  'receivedBy', snapshot_of('person', x."receivedById")));
update "lot" x set "snapshot" = jsonb_strip_nulls(jsonb_build_object(
  'part', snapshot_of('part', x."partId") || coalesce((
      select t."frozen" -> 'part' || jsonb_build_object(
               'areaMethod', t."frozen" -> 'area' -> 'method', 'areaMm2', t."frozen" -> 'area' -> 'wettedMm2',
               'electricalAreaMm2', t."frozen" -> 'area' -> 'electricalMm2', 'coatedAreaMm2', t."frozen" -> 'area' -> 'coatedMm2',
               'maskedAreaMm2', t."frozen" -> 'area' -> 'maskedMm2', 'contactAreaMm2', t."frozen" -> 'area' -> 'contactMm2',
               'material', (snapshot_of('part', x."partId") -> 'material') || (t."frozen" -> 'material'))
        from "traveler" t where t."lotId" = x."id" order by t."id" limit 1), '{}'),
  'recipe', snapshot_of('recipe', x."recipeRevisionId"), 'rack', snapshot_of('rack', x."rackId"),
  'supply', snapshot_of('supply', x."supplyId"), 'createdBy', snapshot_of('person', x."createdById")));
update "lot_hold" x set "snapshot" = jsonb_strip_nulls(jsonb_build_object(
  'placedBy', snapshot_of('person', x."placedById"), 'releasedBy', snapshot_of('person', x."releasedById")));
alter table "final_check" disable trigger user;
update "final_check" x set "snapshot" = jsonb_build_object('checkedBy', snapshot_of('person', x."checkedById"));
alter table "final_check" enable trigger user;
alter table "shipment" disable trigger user;
update "shipment" x set "snapshot" = jsonb_build_object('shippedBy', snapshot_of('person', x."shippedById"));
alter table "shipment" enable trigger user;
alter table "traveler" disable trigger user;
update "traveler" x set "snapshot" = jsonb_build_object('issuedBy', snapshot_of('person', x."issuedById"));
alter table "traveler" enable trigger user;
alter table "traveler_step" disable trigger user;
update "traveler_step" x set "snapshot" = jsonb_strip_nulls(jsonb_build_object(
  'tank', snapshot_of('tank', x."tankId"), 'supply', snapshot_of('supply', x."supplyId")));
alter table "traveler_step" enable trigger user;
alter table "step_sign_off" disable trigger user;
update "step_sign_off" x set "snapshot" = jsonb_strip_nulls(jsonb_build_object(
  'person', snapshot_of('person', x."personId"), 'overrideBy', snapshot_of('person', x."overrideById"),
  'tank', snapshot_of('tank', x."tankId"), 'bath', snapshot_of('bath', x."bathId"), 'supply', snapshot_of('supply', x."supplyId")));
alter table "step_sign_off" enable trigger user;
alter table "step_correction" disable trigger user;
update "step_correction" x set "snapshot" = jsonb_build_object('correctedBy', snapshot_of('person', x."correctedById"));
alter table "step_correction" enable trigger user;

create trigger write_snapshot before insert or update on "quotation_revision" for each row
  execute function take_snapshot('createdBy person createdById', 'sentBy person sentById', 'decidedBy person decidedById');
create trigger write_snapshot_at_sending before insert or update on "quotation_revision" for each row
  execute function snapshot_at_sending();
create trigger write_snapshot before insert or update of "snapshot", "createdById" on "customer_order" for each row
  execute function take_snapshot('customer customer customerId', 'createdBy person createdById');
create trigger write_snapshot before insert or update of "snapshot", "recipeRevisionId", "receivedById" on "order_line" for each row
  execute function take_snapshot('part part partId', 'recipe recipe recipeRevisionId again', 'receivedBy person receivedById again');
create trigger write_snapshot before insert or update of "snapshot", "recipeRevisionId", "rackId", "supplyId" on "lot" for each row
  execute function take_snapshot('part part partId', 'recipe recipe recipeRevisionId again', 'rack rack rackId again',
    'supply supply supplyId again', 'createdBy person createdById');
create trigger write_snapshot before insert or update of "snapshot", "releasedById" on "lot_hold" for each row
  execute function take_snapshot('placedBy person placedById', 'releasedBy person releasedById');
create trigger write_snapshot before insert on "final_check" for each row
  execute function take_snapshot('checkedBy person checkedById');
create trigger write_snapshot before insert on "shipment" for each row
  execute function take_snapshot('shippedBy person shippedById');
create trigger write_snapshot before insert on "traveler" for each row
  execute function take_snapshot('issuedBy person issuedById');
create trigger write_snapshot before insert on "traveler_step" for each row
  execute function take_snapshot('tank tank tankId', 'supply supply supplyId');
create trigger write_snapshot before insert on "step_sign_off" for each row
  execute function take_snapshot('person person personId', 'overrideBy person overrideById', 'tank tank tankId',
    'bath bath bathId', 'supply supply supplyId');
create trigger write_snapshot before insert on "step_correction" for each row
  execute function take_snapshot('correctedBy person correctedById');
