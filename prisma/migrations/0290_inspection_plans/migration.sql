-- Inspection plans of a part, by revision; what was inspected by them, with the plan in force then; and how severity moved, and why.
create table "inspection_plan" (
  "id" serial not null,
  "partId" integer not null,
  "revision" integer not null,
  "note" text not null,
  "setById" integer not null,
  "setAt" timestamptz(3) not null default current_timestamp,
  "snapshot" jsonb not null default '{}',
  constraint "inspection_plan_pkey" primary key ("id"),
  constraint "inspection_plan_partId_fkey" foreign key ("partId") references "part" ("id") on delete restrict on update cascade,
  constraint "inspection_plan_revision" check ("revision" > 0)
);
create unique index "inspection_plan_partId_revision_key" on "inspection_plan" ("partId", "revision");
create trigger write_snapshot before insert or update on "inspection_plan" for each row
  execute function take_snapshot('setBy person setById');

create table "inspection_characteristic" (
  "id" serial not null,
  "planId" integer not null,
  "position" integer not null,
  "name" text not null,
  "kind" text not null,
  "method" text not null,
  "instrument" text not null default '',
  "acceptance" text not null,
  "level" text,
  "aql" text,
  "limitNumber" integer,
  constraint "inspection_characteristic_pkey" primary key ("id"),
  constraint "inspection_characteristic_planId_fkey" foreign key ("planId") references "inspection_plan" ("id") on delete restrict on update cascade,
  constraint "inspection_characteristic_kind" check (
    "kind" in ('visual', 'colour', 'thickness', 'seal', 'adhesion', 'dimension', 'corrosion', 'other')),
  -- Every piece is inspected, or a sample by level and limit of quality; less than that is agreed by a limit number.
  constraint "inspection_characteristic_sample" check (("level" is null) = ("aql" is null)),
  constraint "inspection_characteristic_limit" check ("limitNumber" is null or ("aql" is not null and "limitNumber" >= 0))
);
create unique index "inspection_characteristic_planId_position_key" on "inspection_characteristic" ("planId", "position");
create unique index "inspection_characteristic_name_once" on "inspection_characteristic" ("planId", lower("name"));

create table "inspection" (
  "id" serial not null,
  "lotId" integer not null,
  "travelerId" integer not null,
  "characteristicId" integer not null,
  "customerId" integer not null,
  "partNumber" text not null,
  "name" text not null,
  "lotSize" integer not null,
  "severity" text,
  "letter" text,
  "planTable" text,
  "sampleSize" integer not null,
  "ac" integer not null,
  "re" integer not null,
  "inspected" integer not null,
  "found" integer not null,
  "verdict" text not null,
  "isScreening" boolean not null default false,
  "instrumentId" integer,
  -- Its calibration was overdue when it was inspected with; stays, whatever is calibrated later.
  "instrumentOverdue" boolean not null default false,
  "notes" text not null default '',
  "inspectedById" integer not null,
  "inspectedAt" timestamptz(3) not null default current_timestamp,
  "snapshot" jsonb not null default '{}',
  constraint "inspection_pkey" primary key ("id"),
  constraint "inspection_lotId_fkey" foreign key ("lotId") references "lot" ("id") on delete restrict on update cascade,
  constraint "inspection_characteristicId_fkey" foreign key ("characteristicId") references "inspection_characteristic" ("id")
    on delete restrict on update cascade,
  constraint "inspection_counts" check ("found" >= 0 and "inspected" >= "sampleSize" and "inspected" <= "lotSize" and "ac" >= 0 and "re" > "ac"),
  constraint "inspection_severity" check ("severity" in ('normal', 'tightened', 'reduced')),
  -- A sampled lot says by which table and letter; a lot of which every piece was looked at has none.
  constraint "inspection_table" check (
    ("severity" is null) = ("letter" is null) and ("severity" is null) = ("planTable" is null)
    and ("severity" is not null or "inspected" = "lotSize")),
  constraint "inspection_verdict" check ("verdict" = case when "severity" is null or "found" < "re" then 'accepted' else 'rejected' end)
);
create index "inspection_lotId_idx" on "inspection" ("lotId");
create index "inspection_memory" on "inspection" ("customerId", "partNumber", lower("name"), "id");
-- Once a traveler and characteristic, and once more by looking at every piece after the sample was rejected.
create unique index "inspection_once" on "inspection" ("travelerId", lower("name"), "isScreening");
create trigger write_snapshot before insert or update on "inspection" for each row
  execute function take_snapshot('inspectedBy person inspectedById', 'instrument instrument instrumentId');

create table "inspection_severity" (
  "id" serial not null,
  "customerId" integer not null,
  "partNumber" text not null,
  "name" text not null,
  "was" text not null,
  "severity" text not null,
  "because" text not null,
  "inspectionId" integer,
  "byId" integer not null,
  "at" timestamptz(3) not null default current_timestamp,
  "snapshot" jsonb not null default '{}',
  constraint "inspection_severity_pkey" primary key ("id"),
  constraint "inspection_severity_inspectionId_fkey" foreign key ("inspectionId") references "inspection" ("id") on delete restrict on update cascade,
  constraint "inspection_severity_is" check (
    "severity" in ('normal', 'tightened', 'reduced', 'stopped') and "was" in ('normal', 'tightened', 'reduced', 'stopped')),
  -- Inspection that was discontinued is taken up again by a person and not by a lot.
  constraint "inspection_severity_cause" check (("was" = 'stopped') = ("inspectionId" is null))
);
create index "inspection_severity_memory" on "inspection_severity" ("customerId", "partNumber", lower("name"), "id");
create trigger write_snapshot before insert or update on "inspection_severity" for each row
  execute function take_snapshot('by person byId');

create function inspection_frozen() returns trigger language plpgsql as $$
begin
  raise exception 'an inspection and its plan stand as they were written: write another' using errcode = 'HU001';
end $$;
create trigger inspection_plan_frozen before update or delete on "inspection_plan" for each row execute function inspection_frozen();
create trigger inspection_characteristic_frozen before update or delete on "inspection_characteristic"
  for each row execute function inspection_frozen();
create trigger inspection_frozen before update or delete on "inspection" for each row execute function inspection_frozen();
create trigger inspection_severity_frozen before update or delete on "inspection_severity" for each row execute function inspection_frozen();
create trigger never_emptied before truncate on "inspection_plan" for each statement execute function refuse_truncate();
create trigger never_emptied before truncate on "inspection_characteristic" for each statement execute function refuse_truncate();
create trigger never_emptied before truncate on "inspection" for each statement execute function refuse_truncate();
create trigger never_emptied before truncate on "inspection_severity" for each statement execute function refuse_truncate();

select chain_writes_of('inspection_plan');
select chain_writes_of('inspection_characteristic');
select chain_writes_of('inspection');
select chain_writes_of('inspection_severity');
