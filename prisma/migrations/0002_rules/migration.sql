-- What the database itself refuses, whatever the code above it does.
-- Errors raised here carry SQLSTATE 'HU001' (frozen) so that the service answers them as a conflict.

create function refuse_change() returns trigger language plpgsql as $$
begin
  raise exception '% is kept as it was written: it cannot be % any more',
    tg_argv[0], case tg_op when 'UPDATE' then 'changed' else 'removed' end
    using errcode = 'HU001';
end $$;

-- The audit trail only grows.
create trigger audit_entry_only_grows before update or delete on "audit_entry"
  for each row execute function refuse_change('the audit trail');
create trigger audit_entry_never_emptied before truncate on "audit_entry"
  for each statement execute function refuse_change('the audit trail');

-- A signed step, its readings and its corrections stand for ever.
create trigger step_sign_off_stands before update or delete on "step_sign_off"
  for each row execute function refuse_change('a signed step');
create trigger step_reading_stands before update or delete on "step_reading"
  for each row execute function refuse_change('a reading of a signed step');
create trigger step_correction_stands before update or delete on "step_correction"
  for each row execute function refuse_change('a correction');
create trigger final_check_stands before update or delete on "final_check"
  for each row execute function refuse_change('a final check');
create trigger shipment_stands before update or delete on "shipment"
  for each row execute function refuse_change('a shipment');
create trigger rate_card_stands before update or delete on "rate_card"
  for each row execute function refuse_change('a rate card');
create trigger traveler_step_stands before update or delete on "traveler_step"
  for each row execute function refuse_change('a step of an issued traveler');

-- An issued traveler changes only its status.
create function traveler_frozen() returns trigger language plpgsql as $$
begin
  if tg_op = 'DELETE'
    or (to_jsonb(new) - 'status') is distinct from (to_jsonb(old) - 'status')
    or old."status" <> 'issued'
  then
    raise exception 'traveler % revision % is issued: make a new revision', old."number", old."revision"
      using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger traveler_frozen before update or delete on "traveler"
  for each row execute function traveler_frozen();

-- Only the current revision of a traveler is signed.
create function sign_only_current() returns trigger language plpgsql as $$
declare state text;
begin
  select t."status" into state
    from "traveler_step" s join "traveler" t on t."id" = s."travelerId"
   where s."id" = new."stepId"
     for share of t;
  if state is distinct from 'issued' then
    raise exception 'this traveler is %: only the current revision is signed', coalesce(state, 'unknown')
      using errcode = 'HU002';
  end if;
  if new."bathId" is not null and exists (
    select 1 from "bath" b where b."id" = new."bathId" and b."dumpedAt" is not null and b."dumpedAt" <= new."doneAt"
  ) then
    raise exception 'that bath was dumped: it cannot be used any more' using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger sign_only_current before insert on "step_sign_off"
  for each row execute function sign_only_current();

-- An approved recipe revision changes only on its way out; its steps never.
create function recipe_revision_frozen() returns trigger language plpgsql as $$
begin
  if tg_op = 'DELETE' then
    if old."status" <> 'draft' then
      raise exception 'an approved recipe revision cannot be removed' using errcode = 'HU001';
    end if;
    return old;
  end if;
  if old."status" <> 'draft' and (
    (to_jsonb(new) - array['status', 'supersededAt', 'version'])
      is distinct from (to_jsonb(old) - array['status', 'supersededAt', 'version'])
    or (new."status" <> old."status" and not (old."status" = 'approved' and new."status" in ('superseded', 'withdrawn')))
  ) then
    raise exception 'an approved recipe revision cannot be changed: make a new revision' using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger recipe_revision_frozen before update or delete on "recipe_revision"
  for each row execute function recipe_revision_frozen();

create function recipe_step_frozen() returns trigger language plpgsql as $$
begin
  if exists (
    select 1 from "recipe_revision" r
     where r."id" in (case when tg_op <> 'INSERT' then old."revisionId" end, case when tg_op <> 'DELETE' then new."revisionId" end)
       and r."status" <> 'draft'
  ) then
    raise exception 'the steps of an approved recipe revision cannot be changed: make a new revision' using errcode = 'HU001';
  end if;
  return case when tg_op = 'DELETE' then old else new end;
end $$;
create trigger recipe_step_frozen before insert or update or delete on "recipe_step"
  for each row execute function recipe_step_frozen();

-- A quotation revision that left the house keeps its words and figures.
create function quotation_revision_frozen() returns trigger language plpgsql as $$
declare fate text[] := array['status', 'decidedAt', 'decidedById', 'decisionReason', 'version', 'internalNotes'];
begin
  if old."status" = 'draft' then
    return case when tg_op = 'DELETE' then old else new end;
  end if;
  if tg_op = 'DELETE'
    or new."status" = 'draft'
    or (to_jsonb(new) - fate) is distinct from (to_jsonb(old) - fate)
  then
    raise exception 'a sent quotation cannot be changed: make a new revision' using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger quotation_revision_frozen before update or delete on "quotation_revision"
  for each row execute function quotation_revision_frozen();

create function quotation_line_frozen() returns trigger language plpgsql as $$
begin
  if exists (
    select 1 from "quotation_revision" r
     where r."id" in (case when tg_op <> 'INSERT' then old."revisionId" end, case when tg_op <> 'DELETE' then new."revisionId" end)
       and r."status" <> 'draft'
  ) then
    raise exception 'the lines of a sent quotation cannot be changed: make a new revision' using errcode = 'HU001';
  end if;
  return case when tg_op = 'DELETE' then old else new end;
end $$;
create trigger quotation_line_frozen before insert or update or delete on "quotation_line"
  for each row execute function quotation_line_frozen();

create function quotation_break_frozen() returns trigger language plpgsql as $$
begin
  if exists (
    select 1 from "quotation_line" l join "quotation_revision" r on r."id" = l."revisionId"
     where l."id" in (case when tg_op <> 'INSERT' then old."lineId" end, case when tg_op <> 'DELETE' then new."lineId" end)
       and r."status" <> 'draft'
  ) then
    raise exception 'the prices of a sent quotation cannot be changed: make a new revision' using errcode = 'HU001';
  end if;
  return case when tg_op = 'DELETE' then old else new end;
end $$;
create trigger quotation_break_frozen before insert or update or delete on "quotation_break"
  for each row execute function quotation_break_frozen();

-- A dumped bath stays dumped.
create function bath_stays_dumped() returns trigger language plpgsql as $$
begin
  if old."dumpedAt" is not null then
    raise exception 'that bath was dumped: its record is closed' using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger bath_stays_dumped before update on "bath"
  for each row execute function bath_stays_dumped();

-- One of a kind.
create unique index "person_name_once" on "person" (lower("name"));
create unique index "bath_one_open_a_tank" on "bath" ("tankId") where "dumpedAt" is null;
create unique index "traveler_one_current_a_lot" on "traveler" ("lotId") where "status" = 'issued';
create unique index "recipe_one_approved" on "recipe_revision" ("recipeId") where "status" = 'approved';
create unique index "recipe_one_draft" on "recipe_revision" ("recipeId") where "status" = 'draft';
create unique index "quotation_one_open" on "quotation_revision" ("quotationId") where "status" in ('draft', 'sent', 'accepted');
create unique index "order_one_a_quotation" on "customer_order" ("quotationRevisionId") where "quotationRevisionId" is not null;

-- What makes no sense is not stored.
alter table "shop" add constraint "shop_is_one" check ("id" = 1);
alter table "person"
  add constraint "person_units" check ("units" in ('metric', 'us')),
  add constraint "person_theme" check ("theme" in ('system', 'light', 'dark')),
  add constraint "person_roles" check ("roles" <@ array['estimator', 'planner', 'operator', 'lab', 'quality', 'owner']);
alter table "recipe_revision"
  add constraint "recipe_revision_status" check ("status" in ('draft', 'approved', 'superseded', 'withdrawn')),
  add constraint "recipe_revision_second_person" check ("approvedById" is null or "approvedById" <> "authorId"),
  add constraint "recipe_revision_approval" check (("status" = 'draft') = ("approvedById" is null));
alter table "quotation_revision"
  add constraint "quotation_revision_status" check ("status" in ('draft', 'sent', 'accepted', 'declined', 'lapsed', 'superseded'));
alter table "quotation_break" add constraint "quotation_break_positive" check ("quantity" > 0 and "totalPrice" >= 0);
alter table "part"
  add constraint "part_geometry_kind" check ("geometryKind" in ('typed', 'shapes', 'mesh')),
  add constraint "part_colour_kind" check ("colourKind" in ('none', 'sample', 'lab')),
  add constraint "part_areas" check ("areaMm2" > 0 and "electricalAreaMm2" >= 0 and "coatedAreaMm2" >= 0);
alter table "measurement" add constraint "measurement_status" check ("status" in ('waiting', 'running', 'done', 'failed', 'cancelled'));
alter table "customer_order" add constraint "customer_order_status" check ("status" in ('open', 'complete', 'cancelled'));
alter table "order_line" add constraint "order_line_quantity" check ("quantity" > 0);
alter table "lot"
  add constraint "lot_status" check ("status" in ('released', 'running', 'finished', 'passed', 'shipped', 'cancelled')),
  add constraint "lot_counts" check (
    "quantity" > 0 and "acceptedCount" >= 0 and "rejectedCount" >= 0 and "shippedCount" >= 0
    and "acceptedCount" + "rejectedCount" <= "quantity" and "shippedCount" <= "acceptedCount");
alter table "traveler"
  add constraint "traveler_status" check ("status" in ('issued', 'complete', 'superseded', 'cancelled')),
  add constraint "traveler_kind" check ("kind" in ('first', 'rework'));
alter table "step_sign_off"
  add constraint "step_sign_off_counts" check ("countIn" >= 0 and "countOut" >= 0 and "rejectCount" >= 0 and "countOut" + "rejectCount" = "countIn"),
  add constraint "step_sign_off_reason" check (not "outside" or length(trim("reason")) > 0);

-- Finding a record by the number somebody reads out.
create extension if not exists pg_trgm;
create index "customer_name_words" on "customer" using gin ("name" gin_trgm_ops);
create index "part_number_words" on "part" using gin (("number" || ' ' || "description") gin_trgm_ops);

insert into "shop" ("id") values (1);
insert into "number_series" ("kind", "prefix") values
  ('customer', 'C-'), ('quotation', 'Q-'), ('order', 'O-'), ('lot', 'L-'), ('traveler', 'T-'),
  ('recipe', 'R-'), ('bath', 'B-'), ('shipment', 'S-');
