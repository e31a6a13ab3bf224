-- The audit trail and all that was issued are chained: each entry holds a keyed digest of one record and is bound to the
-- entry before. The key lies outside the database. Entries are made in order by the service, a few seconds after the
-- write; until then the write waits in a queue that the database fills in the same transaction.

create table "chain_form" (
  "id" serial primary key,
  "tableName" text not null,
  "part" text not null,
  "columns" text[]
);
create unique index "chain_form_tableName_part_columns_key" on "chain_form" ("tableName", "part", "columns");

create table "chain_link" (
  "position" bigint not null primary key,
  "formId" integer not null references "chain_form" ("id") on delete restrict on update cascade,
  "tableName" text not null,
  "part" text not null,
  "recordId" bigint not null,
  "linkedAt" timestamptz(3) not null,
  "keyId" text not null,
  "contentDigest" bytea not null,
  "digest" bytea not null
);
create unique index "chain_link_tableName_part_recordId_key" on "chain_link" ("tableName", "part", "recordId");
create index "chain_link_formId_idx" on "chain_link" ("formId");

create table "chain_queue" (
  "id" bigserial primary key,
  "tableName" text not null,
  "recordId" bigint not null
);

create table "chain_seal" (
  "id" serial primary key,
  "position" bigint not null,
  "digest" bytea not null,
  "sealedAt" timestamptz(3) not null default now(),
  "sealedBy" text not null
);
create index "chain_seal_position_idx" on "chain_seal" ("position");

create table "chain_check" (
  "id" serial primary key,
  "startedAt" timestamptz(3) not null default now(),
  "startedBy" text not null,
  "seal" text,
  "aliveAt" timestamptz(3) not null default now(),
  "done" double precision not null default 0,
  "finishedAt" timestamptz(3),
  "verdict" jsonb
);

create trigger chain_form_stands before update or delete on "chain_form"
  for each row execute function refuse_change('a form of the chain');
create trigger chain_link_stands before update or delete on "chain_link"
  for each row execute function refuse_change('an entry of the chain');
create trigger chain_seal_stands before update or delete on "chain_seal"
  for each row execute function refuse_change('a seal of the chain');
create trigger never_emptied before truncate on "chain_form" for each statement execute function refuse_truncate();
create trigger never_emptied before truncate on "chain_link" for each statement execute function refuse_truncate();
create trigger never_emptied before truncate on "chain_seal" for each statement execute function refuse_truncate();

create function queue_for_chain() returns trigger language plpgsql as $$
begin
  insert into "chain_queue" ("tableName", "recordId") select tg_table_name, w."id" from written w;
  return null;
end $$;

-- Queues what stands in a table already, in the order in which it was numbered, and from then on every write. A migration
-- that makes a table of frozen records ends with it: select chain_writes_of('table').
create function chain_writes_of(name text) returns void language plpgsql as $$
begin
  execute format('insert into "chain_queue" ("tableName", "recordId") select %L, "id" from %I order by "id"', name, name);
  execute format('create trigger queue_inserted_for_chain after insert on %I referencing new table as written
    for each statement execute function queue_for_chain()', name);
  execute format('create trigger queue_updated_for_chain after update on %I referencing new table as written
    for each statement execute function queue_for_chain()', name);
end $$;

-- A recipe, a quotation and a series of coupons bring their own rows along when they are issued.
select chain_writes_of(name) from unnest(array[
    'audit_entry', 'rate_card', 'recipe_revision', 'quotation_revision', 'customer_order', 'order_line', 'lot', 'lot_hold',
    'traveler', 'traveler_step', 'step_run', 'step_override', 'step_sign_off', 'step_reading', 'step_correction',
    'parked_sign_off', 'final_check', 'shipment', 'file', 'bath', 'bath_setup', 'bath_request', 'bath_hold', 'chart_baseline',
    'analysis_method', 'standardisation', 'analysis', 'analysis_result', 'addition', 'addition_line', 'stock_movement',
    'coupon_series']) with ordinality as t (name, place) order by place;
