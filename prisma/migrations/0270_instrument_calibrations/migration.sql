-- Calibrations of instruments: what each read against a reference, as found and as left. Each is frozen; one that was written down
-- wrongly is replaced by another with the reason. What an instrument reads at a tank or of a supply is its place; a reading of a step
-- names its instrument, and keeps for ever whether it was overdue or had failed.
create table "instrument_calibration" (
  "id" serial not null,
  "instrumentId" integer not null,
  "doneOn" date not null,
  "nextDueOn" date,
  "doneBy" text not null,
  "certificateNumber" text not null default '',
  "reference" text not null,
  "referenceCertificate" text not null,
  "points" jsonb not null,
  "asFound" text,
  "asLeft" text not null,
  "note" text not null default '',
  "fileId" integer,
  "replacesId" integer,
  "reason" text not null default '',
  "recordedById" integer not null,
  "recordedAt" timestamptz(3) not null default current_timestamp,
  "snapshot" jsonb not null default '{}',
  constraint "instrument_calibration_pkey" primary key ("id"),
  constraint "instrument_calibration_instrumentId_fkey" foreign key ("instrumentId") references "instrument" ("id")
    on delete restrict on update cascade,
  constraint "instrument_calibration_replacesId_fkey" foreign key ("replacesId") references "instrument_calibration" ("id")
    on delete restrict on update cascade,
  constraint "instrument_calibration_verdicts" check ("asFound" in ('pass', 'fail') and "asLeft" in ('pass', 'fail')),
  constraint "instrument_calibration_points" check (jsonb_array_length("points") between 1 and 40),
  constraint "instrument_calibration_due" check ("nextDueOn" > "doneOn"),
  constraint "instrument_calibration_reason" check (("replacesId" is null) = ("reason" = ''))
);
-- One that was written down wrongly is replaced once.
create unique index "instrument_calibration_replacesId_key" on "instrument_calibration" ("replacesId");
create index "instrument_calibration_instrumentId_doneOn_idx" on "instrument_calibration" ("instrumentId", "doneOn");
create index "instrument_calibration_fileId_idx" on "instrument_calibration" ("fileId");
create trigger write_snapshot before insert or update on "instrument_calibration" for each row
  execute function take_snapshot('recordedBy person recordedById');
create function instrument_calibration_frozen() returns trigger language plpgsql as $$
begin
  raise exception 'the calibration of an instrument stands as it was written down: replace it by another' using errcode = 'HU001';
end $$;
create trigger calibration_of_instrument_frozen before update or delete on "instrument_calibration"
  for each row execute function instrument_calibration_frozen();
create trigger never_emptied before truncate on "instrument_calibration" for each statement execute function refuse_truncate();

-- The newest calibration of each instrument that counts on a day: not replaced, and done by then.
create function instrument_calibration_on("ofInstrument" integer, "onDay" date) returns setof "instrument_calibration"
language sql stable as $$
  select c.* from "instrument_calibration" c
   where c."instrumentId" = "ofInstrument" and c."doneOn" <= "onDay"
     and not exists (select from "instrument_calibration" r where r."replacesId" = c."id")
   order by c."doneOn" desc, c."id" desc limit 1
$$;
-- Why an instrument was not to be used on a day: failed, overdue, or null. While a later calibration moved its due date on, the
-- date of the calibration that counted on that day decides.
create function instrument_fault_on("ofInstrument" integer, "onDay" date) returns text language sql stable as $$
  select case
           when c."asLeft" = 'fail' then 'failed'
           when case when c."id" is not null and exists (
                            select from instrument_calibration_on(i."id", 'infinity') n where n."id" <> c."id")
                     then c."nextDueOn" else i."calibrationDueOn" end < "onDay" then 'overdue'
         end
    from "instrument" i left join lateral instrument_calibration_on(i."id", "onDay") c on true
   where i."id" = "ofInstrument"
$$;

create table "instrument_place" (
  "id" serial not null,
  "instrumentId" integer not null,
  "tankId" integer,
  "supplyId" integer,
  "quantity" text not null,
  constraint "instrument_place_pkey" primary key ("id"),
  constraint "instrument_place_instrumentId_fkey" foreign key ("instrumentId") references "instrument" ("id") on delete cascade on update cascade,
  constraint "instrument_place_tankId_fkey" foreign key ("tankId") references "tank" ("id") on delete cascade on update cascade,
  constraint "instrument_place_supplyId_fkey" foreign key ("supplyId") references "power_supply" ("id") on delete cascade on update cascade,
  constraint "instrument_place_one" check (("tankId" is null) <> ("supplyId" is null))
);
create unique index "instrument_place_tankId_quantity_key" on "instrument_place" ("tankId", "quantity");
create unique index "instrument_place_supplyId_quantity_key" on "instrument_place" ("supplyId", "quantity");
create index "instrument_place_instrumentId_idx" on "instrument_place" ("instrumentId");

alter table "step_reading" add column "instrumentId" integer, add column "instrumentFault" text;
alter table "step_reading" add constraint "step_reading_instrumentId_fkey" foreign key ("instrumentId") references "instrument" ("id")
  on delete restrict on update cascade;
alter table "step_reading" add constraint "step_reading_fault" check (
  "instrumentFault" is null or "instrumentId" is not null and "instrumentFault" in ('overdue', 'failed'));
create index "step_reading_instrumentId_idx" on "step_reading" ("instrumentId");

select chain_writes_of('instrument_calibration');
