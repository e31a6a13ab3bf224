-- What the lab, the engineer and the tank signed shows the names, chemicals, instruments and tanks it was signed with, like
-- what is sold, run and shipped since 0050.

create or replace function snapshot_of(kind text, id integer) returns jsonb language sql stable as $$
  select case kind
    when 'person' then (select to_jsonb(x."displayName") from "person" x where x."id" = $2)
    when 'shop' then (
      select jsonb_build_object('name', x."name", 'address', x."address", 'contact', x."contact", 'timeZone', x."timeZone",
               'units', x."units")
        from "shop" x)
    when 'customer' then (
      select jsonb_build_object('id', x."id", 'number', x."number", 'name', x."name",
               'units', case x."units" when 'shop' then s."units" else x."units" end,
               'address', coalesce((select a."lines" from "customer_address" a where a."customerId" = x."id"
                                     order by a."kind" <> 'billing', a."position" limit 1), ''))
        from "customer" x cross join "shop" s where x."id" = $2)
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
    when 'fill' then (
      select jsonb_build_object('id', x."id", 'number', x."number", 'tankId', x."tankId", 'tankCode', t."code")
        from "bath" x join "tank" t on t."id" = x."tankId" where x."id" = $2)
    when 'material' then (
      select jsonb_build_object('id', x."id", 'name', x."name", 'condition', x."condition", 'baseMetal', x."baseMetal")
        from "material" x where x."id" = $2)
    when 'chemicalLot' then (
      select jsonb_build_object('id', c."id", 'code', c."code", 'name', c."name", 'solute', c."solute", 'hazards', c."hazards",
               'supplierLot', x."supplierLot", 'expiresOn', x."expiresOn"::text, 'assayMassFraction', x."assayMassFraction")
        from "chemical_lot" x join "chemical" c on c."id" = x."chemicalId" where x."id" = $2)
    when 'titrant' then (
      select jsonb_build_object('id', t."id", 'label', t."label", 'reagent', t."reagent")
        from "standardisation" x join "titrant_lot" t on t."id" = x."titrantId" where x."id" = $2)
    when 'instrument' then (
      select jsonb_build_object('id', x."id", 'code', x."code", 'calibrationDueOn', x."calibrationDueOn"::text)
        from "instrument" x where x."id" = $2)
  end
$$;


-- Takes what its arguments name, each `key kind column`: once, or again whenever the column names another row where it
-- ends in `again`, or as soon as another column is filled where it ends in `when column`.
create or replace function take_snapshot() returns trigger language plpgsql as $$
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
    if item[4] = 'when' and to_jsonb(new) -> item[5] = 'null' then
      continue;
    end if;
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

-- Who wrote in a draft: each under the name of the day they first did.
create function take_writers() returns trigger language plpgsql as $$
begin
  new."snapshot" := new."snapshot" || jsonb_build_object('writers', (
    select coalesce(jsonb_object_agg(w."id", coalesce(new."snapshot" -> 'writers' -> w."id"::text, snapshot_of('person', w."id"))), '{}')
      from unnest(new."writerIds") w ("id")));
  return new;
end $$;

alter table "analysis" add column "snapshot" jsonb not null default '{}';
alter table "addition" add column "snapshot" jsonb not null default '{}';
alter table "addition_line" add column "snapshot" jsonb not null default '{}';
alter table "bath" add column "snapshot" jsonb not null default '{}';
alter table "bath_setup" add column "snapshot" jsonb not null default '{}';
alter table "bath_hold" add column "snapshot" jsonb not null default '{}';
alter table "bath_request" add column "snapshot" jsonb not null default '{}';
alter table "chart_baseline" add column "snapshot" jsonb not null default '{}';
alter table "standardisation" add column "snapshot" jsonb not null default '{}';
alter table "chemical_lot" add column "snapshot" jsonb not null default '{}';
alter table "stock_movement" add column "snapshot" jsonb not null default '{}';
alter table "analysis_method" add column "snapshot" jsonb not null default '{}';
alter table "recipe_revision" add column "snapshot" jsonb not null default '{}';
alter table "coupon_series" add column "snapshot" jsonb not null default '{}';
alter table "rate_card" add column "snapshot" jsonb not null default '{}';
alter table "file" add column "snapshot" jsonb not null default '{}';
alter table "step_run" add column "snapshot" jsonb not null default '{}';
alter table "step_override" add column "snapshot" jsonb not null default '{}';
alter table "parked_sign_off" add column "snapshot" jsonb not null default '{}';

-- Records from before this point show what can still be known: the living data of today.
alter table "analysis" disable trigger user;
update "analysis" x set "snapshot" = (
  select coalesce(jsonb_object_agg(k."key", k."value"), '{}') from (values
    ('bath', snapshot_of('fill', x."bathId")),
    ('analyst', snapshot_of('person', x."analystId")),
    ('titrant', snapshot_of('titrant', x."standardisationId")),
    ('instrument', snapshot_of('instrument', x."instrumentId")),
    ('reviewedBy', snapshot_of('person', x."reviewedById")),
    ('voidedBy', snapshot_of('person', x."voidedById"))) k ("key", "value")
   where k."value" is not null);
alter table "analysis" enable trigger user;
alter table "addition" disable trigger user;
update "addition" x set "snapshot" = (
  select coalesce(jsonb_object_agg(k."key", k."value"), '{}') from (values
    ('bath', snapshot_of('fill', x."bathId")),
    ('plannedBy', snapshot_of('person', x."plannedById")),
    ('doneBy', snapshot_of('person', x."doneById")),
    ('checkedBy', snapshot_of('person', x."checkedById")),
    ('withdrawnBy', snapshot_of('person', x."withdrawnById"))) k ("key", "value")
   where k."value" is not null);
alter table "addition" enable trigger user;
alter table "addition_line" disable trigger user;
update "addition_line" x set "snapshot" = (
  select coalesce(jsonb_object_agg(k."key", k."value"), '{}') from (values
    ('chemical', snapshot_of('chemicalLot', x."chemicalLotId"))) k ("key", "value")
   where k."value" is not null);
alter table "addition_line" enable trigger user;
alter table "bath" disable trigger user;
update "bath" x set "snapshot" = (
  select coalesce(jsonb_object_agg(k."key", k."value"), '{}') from (values
    ('madeUpBy', snapshot_of('person', x."madeUpById")),
    ('dumpedBy', snapshot_of('person', x."dumpedById")),
    ('tank', case when x."dumpedAt" is not null then snapshot_of('tank', x."tankId") end)) k ("key", "value")
   where k."value" is not null);
alter table "bath" enable trigger user;
alter table "bath_setup" disable trigger user;
update "bath_setup" x set "snapshot" = (
  select coalesce(jsonb_object_agg(k."key", k."value"), '{}') from (values
    ('setBy', snapshot_of('person', x."setById"))) k ("key", "value")
   where k."value" is not null);
alter table "bath_setup" enable trigger user;
alter table "bath_hold" disable trigger user;
update "bath_hold" x set "snapshot" = (
  select coalesce(jsonb_object_agg(k."key", k."value"), '{}') from (values
    ('placedBy', snapshot_of('person', x."placedById")),
    ('releasedBy', snapshot_of('person', x."releasedById"))) k ("key", "value")
   where k."value" is not null);
alter table "bath_hold" enable trigger user;
alter table "bath_request" disable trigger user;
update "bath_request" x set "snapshot" = (
  select coalesce(jsonb_object_agg(k."key", k."value"), '{}') from (values
    ('askedBy', snapshot_of('person', x."askedById"))) k ("key", "value")
   where k."value" is not null);
alter table "bath_request" enable trigger user;
alter table "chart_baseline" disable trigger user;
update "chart_baseline" x set "snapshot" = (
  select coalesce(jsonb_object_agg(k."key", k."value"), '{}') from (values
    ('setBy', snapshot_of('person', x."setById"))) k ("key", "value")
   where k."value" is not null);
alter table "chart_baseline" enable trigger user;
alter table "standardisation" disable trigger user;
update "standardisation" x set "snapshot" = (
  select coalesce(jsonb_object_agg(k."key", k."value"), '{}') from (values
    ('by', snapshot_of('person', x."byId"))) k ("key", "value")
   where k."value" is not null);
alter table "standardisation" enable trigger user;
alter table "chemical_lot" disable trigger user;
update "chemical_lot" x set "snapshot" = (
  select coalesce(jsonb_object_agg(k."key", k."value"), '{}') from (values
    ('receivedBy', snapshot_of('person', x."receivedById"))) k ("key", "value")
   where k."value" is not null);
alter table "chemical_lot" enable trigger user;
alter table "stock_movement" disable trigger user;
update "stock_movement" x set "snapshot" = (
  select coalesce(jsonb_object_agg(k."key", k."value"), '{}') from (values
    ('by', snapshot_of('person', x."personId"))) k ("key", "value")
   where k."value" is not null);
alter table "stock_movement" enable trigger user;
alter table "analysis_method" disable trigger user;
update "analysis_method" x set "snapshot" = (
  select coalesce(jsonb_object_agg(k."key", k."value"), '{}') from (values
    ('author', snapshot_of('person', x."authorId"))) k ("key", "value")
   where k."value" is not null);
alter table "analysis_method" enable trigger user;
alter table "recipe_revision" disable trigger user;
update "recipe_revision" x set "snapshot" = (
  select coalesce(jsonb_object_agg(k."key", k."value"), '{}') from (values
    ('author', snapshot_of('person', x."authorId")),
    ('approvedBy', snapshot_of('person', x."approvedById")),
    ('writers', (select coalesce(jsonb_object_agg(w."id", snapshot_of('person', w."id")), '{}') from unnest(x."writerIds") w ("id")))) k ("key", "value")
   where k."value" is not null);
alter table "recipe_revision" enable trigger user;
alter table "coupon_series" disable trigger user;
update "coupon_series" x set "snapshot" = (
  select coalesce(jsonb_object_agg(k."key", k."value"), '{}') from (values
    ('author', snapshot_of('person', x."authorId")),
    ('approvedBy', snapshot_of('person', x."approvedById")),
    ('material', case when x."approvedAt" is not null then snapshot_of('material', x."materialId") end),
    ('writers', (select coalesce(jsonb_object_agg(w."id", snapshot_of('person', w."id")), '{}') from unnest(x."writerIds") w ("id")))) k ("key", "value")
   where k."value" is not null);
alter table "coupon_series" enable trigger user;
alter table "rate_card" disable trigger user;
update "rate_card" x set "snapshot" = (
  select coalesce(jsonb_object_agg(k."key", k."value"), '{}') from (values
    ('createdBy', snapshot_of('person', x."createdById"))) k ("key", "value")
   where k."value" is not null);
alter table "rate_card" enable trigger user;
alter table "file" disable trigger user;
update "file" x set "snapshot" = (
  select coalesce(jsonb_object_agg(k."key", k."value"), '{}') from (values
    ('createdBy', snapshot_of('person', x."createdById"))) k ("key", "value")
   where k."value" is not null);
alter table "file" enable trigger user;
alter table "step_run" disable trigger user;
update "step_run" x set "snapshot" = (
  select coalesce(jsonb_object_agg(k."key", k."value"), '{}') from (values
    ('inBy', snapshot_of('person', x."inById")),
    ('outBy', snapshot_of('person', x."outById"))) k ("key", "value")
   where k."value" is not null);
alter table "step_run" enable trigger user;
alter table "step_override" disable trigger user;
update "step_override" x set "snapshot" = (
  select coalesce(jsonb_object_agg(k."key", k."value"), '{}') from (values
    ('grantedBy', snapshot_of('person', x."grantedById"))) k ("key", "value")
   where k."value" is not null);
alter table "step_override" enable trigger user;
alter table "parked_sign_off" disable trigger user;
update "parked_sign_off" x set "snapshot" = (
  select coalesce(jsonb_object_agg(k."key", k."value"), '{}') from (values
    ('person', snapshot_of('person', x."personId")),
    ('decidedBy', snapshot_of('person', x."decidedById"))) k ("key", "value")
   where k."value" is not null);
alter table "parked_sign_off" enable trigger user;

create trigger write_snapshot before insert or update on "analysis" for each row
  execute function take_snapshot('bath fill bathId',
    'analyst person analystId',
    'titrant titrant standardisationId',
    'instrument instrument instrumentId',
    'reviewedBy person reviewedById',
    'voidedBy person voidedById');
create trigger write_snapshot before insert or update on "addition" for each row
  execute function take_snapshot('bath fill bathId',
    'plannedBy person plannedById',
    'doneBy person doneById',
    'checkedBy person checkedById',
    'withdrawnBy person withdrawnById');
create trigger write_snapshot before insert or update on "addition_line" for each row
  execute function take_snapshot('chemical chemicalLot chemicalLotId');
create trigger write_snapshot before insert or update on "bath" for each row
  execute function take_snapshot('madeUpBy person madeUpById',
    'dumpedBy person dumpedById',
    'tank tank tankId when dumpedAt');
create trigger write_snapshot before insert or update on "bath_setup" for each row
  execute function take_snapshot('setBy person setById');
create trigger write_snapshot before insert or update on "bath_hold" for each row
  execute function take_snapshot('placedBy person placedById',
    'releasedBy person releasedById');
create trigger write_snapshot before insert or update on "bath_request" for each row
  execute function take_snapshot('askedBy person askedById');
create trigger write_snapshot before insert or update on "chart_baseline" for each row
  execute function take_snapshot('setBy person setById');
create trigger write_snapshot before insert or update on "standardisation" for each row
  execute function take_snapshot('by person byId');
create trigger write_snapshot before insert or update on "chemical_lot" for each row
  execute function take_snapshot('receivedBy person receivedById');
create trigger write_snapshot before insert or update on "stock_movement" for each row
  execute function take_snapshot('by person personId');
create trigger write_snapshot before insert or update on "analysis_method" for each row
  execute function take_snapshot('author person authorId');
create trigger write_snapshot before insert or update on "recipe_revision" for each row
  execute function take_snapshot('author person authorId',
    'approvedBy person approvedById');
create trigger write_snapshot before insert or update on "coupon_series" for each row
  execute function take_snapshot('author person authorId',
    'approvedBy person approvedById',
    'material material materialId when approvedAt');
create trigger write_snapshot before insert or update on "rate_card" for each row
  execute function take_snapshot('createdBy person createdById');
create trigger write_snapshot before insert or update on "file" for each row
  execute function take_snapshot('createdBy person createdById');
create trigger write_snapshot before insert or update on "step_run" for each row
  execute function take_snapshot('inBy person inById',
    'outBy person outById');
create trigger write_snapshot before insert or update on "step_override" for each row
  execute function take_snapshot('grantedBy person grantedById');
create trigger write_snapshot before insert or update on "parked_sign_off" for each row
  execute function take_snapshot('person person personId',
    'decidedBy person decidedById');
create trigger write_snapshot_writers before insert or update on "recipe_revision" for each row execute function take_writers();
create trigger write_snapshot_writers before insert or update on "coupon_series" for each row execute function take_writers();
create trigger never_emptied before truncate on "chemical_lot" for each statement execute function refuse_truncate();
