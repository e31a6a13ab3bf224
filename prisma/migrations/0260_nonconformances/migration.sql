-- Nonconformances: what did not meet a requirement, with what the record said of it then. Each is frozen as it was opened; containment,
-- cause, actions, costs, corrections and how it ends are rows of their own, and so are dispositions.
create table "nonconformance" (
  "id" serial not null,
  "number" text not null,
  "lotId" integer not null,
  "holdId" integer,
  "finalCheckId" integer,
  "shipmentId" integer,
  "foundOn" date not null,
  "foundAt" text not null,
  "foundBy" text not null,
  "customerReference" text not null default '',
  "piecesAffected" integer not null,
  "piecesInspected" integer not null,
  "fault" text not null,
  "place" text not null default '',
  "description" text not null,
  "requirement" text not null,
  "measuredValue" double precision,
  "measuredUnit" text not null default '',
  "containment" text not null,
  "record" jsonb not null,
  "openedById" integer not null,
  "openedAt" timestamptz(3) not null default current_timestamp,
  "state" text not null default 'open',
  "snapshot" jsonb not null default '{}',
  constraint "nonconformance_pkey" primary key ("id"),
  constraint "nonconformance_lotId_fkey" foreign key ("lotId") references "lot" ("id") on delete restrict on update cascade,
  constraint "nonconformance_foundAt" check ("foundAt" in ('receipt', 'process', 'inspection', 'customer')),
  constraint "nonconformance_state" check ("state" in ('open', 'closed')),
  constraint "nonconformance_pieces" check ("piecesAffected" > 0 and "piecesInspected" > 0)
);
create unique index "nonconformance_number_key" on "nonconformance" ("number");
create index "nonconformance_lotId_idx" on "nonconformance" ("lotId");
create index "nonconformance_open" on "nonconformance" ("id") where "state" = 'open';
create index "nonconformance_number_words" on "nonconformance" using gin ("number" gin_trgm_ops);
create trigger write_snapshot before insert or update on "nonconformance" for each row
  execute function take_snapshot('openedBy person openedById');
create function nonconformance_frozen() returns trigger language plpgsql as $$
begin
  if tg_op = 'DELETE' or to_jsonb(old) - 'state' <> to_jsonb(new) - 'state' then
    raise exception 'nonconformance % stands as it was opened: write a correction beside it', old."number" using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger nonconformance_frozen before update or delete on "nonconformance"
  for each row execute function nonconformance_frozen();
create trigger never_emptied before truncate on "nonconformance" for each statement execute function refuse_truncate();

create table "nonconformance_disposition" (
  "id" serial not null,
  "nonconformanceId" integer not null,
  "lotId" integer not null,
  "disposition" text not null,
  "pieces" integer not null,
  "takenFrom" text not null,
  "acceptedChange" integer not null default 0,
  "rejectedChange" integer not null default 0,
  "shippedChange" integer not null default 0,
  "authority" text not null,
  "concessionNumber" text not null default '',
  "concessionBy" text not null default '',
  "reason" text not null,
  "travelerId" integer,
  "decidedById" integer not null,
  "decidedAt" timestamptz(3) not null default current_timestamp,
  "snapshot" jsonb not null default '{}',
  constraint "nonconformance_disposition_pkey" primary key ("id"),
  constraint "nonconformance_disposition_nonconformanceId_fkey" foreign key ("nonconformanceId") references "nonconformance" ("id")
    on delete restrict on update cascade,
  constraint "nonconformance_disposition_kind" check ("disposition" in ('rework', 'concession', 'return', 'scrap', 'use-as-is')),
  constraint "nonconformance_disposition_from" check ("takenFrom" in ('floor', 'rejected', 'accepted', 'shipped')),
  constraint "nonconformance_disposition_pieces" check ("pieces" > 0),
  constraint "nonconformance_disposition_concession" check (
    ("disposition" = 'concession') = ("concessionNumber" <> '') and ("disposition" = 'concession') = ("concessionBy" <> '')),
  constraint "nonconformance_disposition_rework" check (("disposition" = 'rework') = ("travelerId" is not null))
);
create index "nonconformance_disposition_nonconformanceId_idx" on "nonconformance_disposition" ("nonconformanceId");
create index "nonconformance_disposition_lotId_idx" on "nonconformance_disposition" ("lotId");
create trigger write_snapshot before insert or update on "nonconformance_disposition" for each row
  execute function take_snapshot('decidedBy person decidedById');

create table "nonconformance_entry" (
  "id" serial not null,
  "nonconformanceId" integer not null,
  "kind" text not null,
  "text" text not null,
  "actionId" integer,
  "ownerId" integer,
  "dueOn" date,
  "effective" boolean,
  "fileId" integer,
  "costKind" text,
  "amount" decimal(14, 3),
  "field" text,
  "newValue" text,
  "byId" integer not null,
  "at" timestamptz(3) not null default current_timestamp,
  "snapshot" jsonb not null default '{}',
  constraint "nonconformance_entry_pkey" primary key ("id"),
  constraint "nonconformance_entry_nonconformanceId_fkey" foreign key ("nonconformanceId") references "nonconformance" ("id")
    on delete restrict on update cascade,
  constraint "nonconformance_entry_kind" check (
    "kind" in ('containment', 'photo', 'correction', 'cause', 'action', 'action-done', 'effect', 'cost', 'closed', 'reopened')),
  constraint "nonconformance_entry_action" check (("kind" in ('action-done', 'effect')) = ("actionId" is not null)),
  constraint "nonconformance_entry_owner" check (("kind" = 'action') = ("ownerId" is not null) and ("kind" = 'action') = ("dueOn" is not null)),
  constraint "nonconformance_entry_effect" check (("kind" = 'effect') = ("effective" is not null)),
  constraint "nonconformance_entry_photo" check (("kind" = 'photo') = ("fileId" is not null)),
  constraint "nonconformance_entry_cost" check (("kind" = 'cost') = ("costKind" is not null) and ("kind" = 'cost') = ("amount" is not null)),
  constraint "nonconformance_entry_correction" check (
    ("kind" = 'correction') = ("field" is not null) and ("kind" = 'correction') = ("newValue" is not null))
);
create index "nonconformance_entry_nonconformanceId_idx" on "nonconformance_entry" ("nonconformanceId");
create index "nonconformance_entry_fileId_idx" on "nonconformance_entry" ("fileId");
-- Two people at once: an action is done once, and its effect is looked at once.
create unique index "nonconformance_entry_done_once" on "nonconformance_entry" ("actionId") where "kind" = 'action-done';
create trigger write_snapshot before insert or update on "nonconformance_entry" for each row
  execute function take_snapshot('by person byId', 'owner person ownerId');

create function nonconformance_row_frozen() returns trigger language plpgsql as $$
begin
  raise exception 'a row of a nonconformance stands: write another beside it' using errcode = 'HU001';
end $$;
create trigger disposition_frozen before update or delete on "nonconformance_disposition"
  for each row execute function nonconformance_row_frozen();
create trigger never_emptied before truncate on "nonconformance_disposition" for each statement execute function refuse_truncate();
create trigger entry_frozen before update or delete on "nonconformance_entry"
  for each row execute function nonconformance_row_frozen();
create trigger never_emptied before truncate on "nonconformance_entry" for each statement execute function refuse_truncate();

insert into "number_series" ("kind", "prefix") values ('nonconformance', 'NC-');

select chain_writes_of('nonconformance');
select chain_writes_of('nonconformance_disposition');
select chain_writes_of('nonconformance_entry');
