-- Immersion, exposure, salt spray and humidity tests of protection. A test is planned and edited until it starts; from then on it
-- stands, and what is seen of its specimens and its chamber is a row each that nothing changes.

alter table "polarization_scan" drop constraint "polarization_scan_finish",
  add constraint "polarization_scan_finish" check (
    "finish" in ('bare', 'coloured', 'coloured-and-sealed', 'coloured-and-oiled'));

create table "exposure_test" (
  "id" serial not null,
  "number" text not null,
  "name" text not null,
  "kind" text not null,
  "medium" text not null,
  "concentrationGPerL" double precision,
  "temperatureC" double precision,
  "place" text not null,
  "standard" text not null default '',
  "lookEveryDays" integer not null,
  "plannedStart" date,
  "plannedHours" double precision not null,
  "responsibleId" integer not null,
  "limits" jsonb not null,
  "note" text not null default '',
  "state" text not null default 'planned',
  "createdById" integer not null,
  "createdAt" timestamptz(3) not null default current_timestamp,
  "startedById" integer,
  "startedAt" timestamptz(3),
  "startDay" date,
  "timeZone" text,
  "endedById" integer,
  "endedAt" timestamptz(3),
  "endDay" date,
  "verdict" text not null default '',
  "result" jsonb,
  "calcVersion" text,
  "withdrawReason" text not null default '',
  "version" integer not null default 1,
  "snapshot" jsonb not null default '{}',
  constraint "exposure_test_pkey" primary key ("id"),
  constraint "exposure_test_kind" check ("kind" in ('immersion', 'outdoor-exposure', 'indoor-exposure', 'neutral-salt-spray',
    'acetic-salt-spray', 'copper-acetic-salt-spray', 'humidity')),
  constraint "exposure_test_state" check ("state" in ('planned', 'running', 'ended', 'withdrawn')),
  constraint "exposure_test_plan" check ("plannedHours" > 0 and "lookEveryDays" > 0),
  constraint "exposure_test_start" check (("state" in ('running', 'ended')) = ("startedAt" is not null)
    and num_nulls("startedAt", "startDay", "startedById", "timeZone") in (0, 4)),
  constraint "exposure_test_end" check (("state" = 'ended') = ("endedAt" is not null)
    and num_nulls("endedAt", "endDay", "endedById", "result", "calcVersion") in (0, 5)
    and ("endedAt" is null) = ("verdict" = '') and "endedAt" >= "startedAt"),
  constraint "exposure_test_withdrawal" check (("state" = 'withdrawn') = ("withdrawReason" <> ''))
);
create unique index "exposure_test_number_key" on "exposure_test" ("number");
create index "exposure_test_state_idx" on "exposure_test" ("state");

create function exposure_test_stands() returns trigger language plpgsql as $$
declare
  later text[] := array['state', 'endedById', 'endedAt', 'endDay', 'verdict', 'result', 'calcVersion', 'version', 'snapshot'];
begin
  if tg_op = 'DELETE' or old."state" in ('ended', 'withdrawn') or (old."state" = 'running' and (
    new."state" not in ('running', 'ended') or (to_jsonb(new) - later) is distinct from (to_jsonb(old) - later)))
  then
    raise exception 'exposure test % is kept as it was started, and as it was ended', old."number" using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger exposure_test_stands before update or delete on "exposure_test"
  for each row execute function exposure_test_stands();
create trigger never_emptied before truncate on "exposure_test" for each statement execute function refuse_truncate();
create trigger write_snapshot before insert or update on "exposure_test" for each row
  execute function take_snapshot('createdBy person createdById', 'responsible person responsibleId again',
    'startedBy person startedById', 'endedBy person endedById');

create table "exposure_specimen" (
  "id" serial not null,
  "testId" integer not null,
  "position" integer not null,
  "mark" text not null,
  "materialId" integer not null,
  "finish" text not null,
  "film" text not null default '',
  "protective" text not null default '',
  "recipeRevisionId" integer,
  "couponSeriesId" integer,
  "areaMm2" double precision not null,
  "edgesMasked" boolean not null,
  "note" text not null default '',
  "snapshot" jsonb not null default '{}',
  constraint "exposure_specimen_pkey" primary key ("id"),
  constraint "exposure_specimen_testId_fkey" foreign key ("testId") references "exposure_test" ("id") on delete restrict on update cascade,
  constraint "exposure_specimen_materialId_fkey" foreign key ("materialId") references "material" ("id") on delete restrict on update cascade,
  constraint "exposure_specimen_recipeRevisionId_fkey" foreign key ("recipeRevisionId") references "recipe_revision" ("id") on delete restrict on update cascade,
  constraint "exposure_specimen_couponSeriesId_fkey" foreign key ("couponSeriesId") references "coupon_series" ("id") on delete restrict on update cascade,
  constraint "exposure_specimen_finish" check ("finish" in ('bare', 'coloured', 'coloured-and-sealed', 'coloured-and-oiled')),
  constraint "exposure_specimen_protective" check (
    ("finish" in ('coloured-and-sealed', 'coloured-and-oiled')) = ("protective" <> '') and ("finish" <> 'bare' or "film" = '')),
  constraint "exposure_specimen_area" check ("areaMm2" > 0)
);
create unique index "exposure_specimen_testId_position_key" on "exposure_specimen" ("testId", "position");
create index "exposure_specimen_materialId_idx" on "exposure_specimen" ("materialId");
create index "exposure_specimen_recipeRevisionId_idx" on "exposure_specimen" ("recipeRevisionId");
create index "exposure_specimen_couponSeriesId_idx" on "exposure_specimen" ("couponSeriesId");

create function exposure_specimen_frozen() returns trigger language plpgsql as $$
begin
  if exists (
    select from "exposure_test" t
     where t."id" in (case when tg_op <> 'INSERT' then old."testId" end, case when tg_op <> 'DELETE' then new."testId" end)
       and t."state" <> 'planned'
  ) then
    raise exception 'the specimens of an exposure test that was started cannot be changed' using errcode = 'HU001';
  end if;
  return case when tg_op = 'DELETE' then old else new end;
end $$;
create trigger exposure_specimen_frozen before insert or update or delete on "exposure_specimen"
  for each row execute function exposure_specimen_frozen();
create trigger never_emptied before truncate on "exposure_specimen" for each statement execute function refuse_truncate();
create trigger write_snapshot before insert or update on "exposure_specimen" for each row
  execute function take_snapshot('material material materialId', 'recipe recipe recipeRevisionId');

create table "exposure_observation" (
  "id" serial not null,
  "testId" integer not null,
  "specimenId" integer not null,
  "seenAt" timestamptz(3) not null,
  "day" date not null,
  "verdict" text not null,
  "defectAreaPercent" double precision,
  "note" text not null default '',
  "photoId" integer,
  "takenOut" boolean not null,
  "seenById" integer not null,
  "enteredAt" timestamptz(3) not null default current_timestamp,
  "snapshot" jsonb not null default '{}',
  constraint "exposure_observation_pkey" primary key ("id"),
  constraint "exposure_observation_testId_fkey" foreign key ("testId") references "exposure_test" ("id") on delete restrict on update cascade,
  constraint "exposure_observation_specimenId_fkey" foreign key ("specimenId") references "exposure_specimen" ("id") on delete restrict on update cascade,
  constraint "exposure_observation_photoId_fkey" foreign key ("photoId") references "file" ("id") on delete restrict on update cascade,
  constraint "exposure_observation_verdict" check (
    "verdict" in ('no-change', 'stain', 'first-corrosion', 'corroded')
    and ("defectAreaPercent" is null or ("verdict" in ('first-corrosion', 'corroded') and "defectAreaPercent" > 0 and "defectAreaPercent" <= 100))
    and ("verdict" <> 'corroded' or "defectAreaPercent" is not null)),
  constraint "exposure_observation_past" check ("seenAt" <= "enteredAt" + interval '5 minutes')
);
create unique index "exposure_observation_photoId_key" on "exposure_observation" ("photoId");
create unique index "exposure_observation_specimenId_seenAt_key" on "exposure_observation" ("specimenId", "seenAt");
create index "exposure_observation_testId_day_idx" on "exposure_observation" ("testId", "day");

create table "exposure_correction" (
  "id" serial not null,
  "observationId" integer not null,
  "verdict" text not null,
  "defectAreaPercent" double precision,
  "note" text not null default '',
  "reason" text not null,
  "correctedById" integer not null,
  "correctedAt" timestamptz(3) not null default current_timestamp,
  "snapshot" jsonb not null default '{}',
  constraint "exposure_correction_pkey" primary key ("id"),
  constraint "exposure_correction_observationId_fkey" foreign key ("observationId") references "exposure_observation" ("id") on delete restrict on update cascade,
  constraint "exposure_correction_verdict" check (
    "verdict" in ('no-change', 'stain', 'first-corrosion', 'corroded')
    and ("defectAreaPercent" is null or ("verdict" in ('first-corrosion', 'corroded') and "defectAreaPercent" > 0 and "defectAreaPercent" <= 100))
    and ("verdict" <> 'corroded' or "defectAreaPercent" is not null)),
  constraint "exposure_correction_reason" check ("reason" <> '')
);
create index "exposure_correction_observationId_idx" on "exposure_correction" ("observationId");

create table "exposure_reading" (
  "id" serial not null,
  "testId" integer not null,
  "readAt" timestamptz(3) not null,
  "temperatureC" double precision,
  "pH" double precision,
  "collectionMlPerHour" double precision,
  "saltGPerL" double precision,
  "outside" text[] default array[]::text[],
  "note" text not null default '',
  "correctsId" integer,
  "reason" text not null default '',
  "readById" integer not null,
  "enteredAt" timestamptz(3) not null default current_timestamp,
  "snapshot" jsonb not null default '{}',
  constraint "exposure_reading_pkey" primary key ("id"),
  constraint "exposure_reading_testId_fkey" foreign key ("testId") references "exposure_test" ("id") on delete restrict on update cascade,
  constraint "exposure_reading_correctsId_fkey" foreign key ("correctsId") references "exposure_reading" ("id") on delete restrict on update cascade,
  constraint "exposure_reading_figures" check (num_nonnulls("temperatureC", "pH", "collectionMlPerHour", "saltGPerL") > 0),
  constraint "exposure_reading_correction" check (("correctsId" is null) = ("reason" = ''))
);
create unique index "exposure_reading_correctsId_key" on "exposure_reading" ("correctsId");
create index "exposure_reading_testId_idx" on "exposure_reading" ("testId");

create table "exposure_interruption" (
  "id" serial not null,
  "testId" integer not null,
  "fromAt" timestamptz(3) not null,
  "toAt" timestamptz(3),
  "reason" text not null,
  "enteredById" integer not null,
  "enteredAt" timestamptz(3) not null default current_timestamp,
  "endedById" integer,
  "endedAt" timestamptz(3),
  "snapshot" jsonb not null default '{}',
  constraint "exposure_interruption_pkey" primary key ("id"),
  constraint "exposure_interruption_testId_fkey" foreign key ("testId") references "exposure_test" ("id") on delete restrict on update cascade,
  constraint "exposure_interruption_span" check ("toAt" > "fromAt" and "reason" <> ''
    and num_nulls("toAt", "endedById", "endedAt") in (0, 3))
);
create unique index "exposure_interruption_one_open" on "exposure_interruption" ("testId") where "toAt" is null;
create index "exposure_interruption_testId_idx" on "exposure_interruption" ("testId");

-- What is seen of a test is seen while it runs.
create function exposure_test_runs() returns trigger language plpgsql as $$
begin
  if not exists (
    select from "exposure_test" t where t."id" = new."testId" and t."state" = 'running') then
    raise exception 'exposure test % is not running', new."testId" using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger exposure_test_runs before insert on "exposure_observation" for each row execute function exposure_test_runs();
create trigger exposure_test_runs before insert on "exposure_reading" for each row execute function exposure_test_runs();
create trigger exposure_test_runs before insert on "exposure_interruption" for each row execute function exposure_test_runs();

create trigger exposure_observation_stands before update or delete on "exposure_observation"
  for each row execute function refuse_change('an observation of a specimen');
create trigger exposure_correction_stands before update or delete on "exposure_correction"
  for each row execute function refuse_change('a correction of an observation');
create trigger exposure_reading_stands before update or delete on "exposure_reading"
  for each row execute function refuse_change('a reading of a chamber');

create function exposure_interruption_stands() returns trigger language plpgsql as $$
declare
  later text[] := array['toAt', 'endedById', 'endedAt', 'snapshot'];
begin
  if tg_op = 'DELETE' or old."toAt" is not null or (to_jsonb(new) - later) is distinct from (to_jsonb(old) - later) then
    raise exception 'an interruption is kept as it was entered, and ends once' using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger exposure_interruption_stands before update or delete on "exposure_interruption"
  for each row execute function exposure_interruption_stands();

create trigger never_emptied before truncate on "exposure_observation" for each statement execute function refuse_truncate();
create trigger never_emptied before truncate on "exposure_correction" for each statement execute function refuse_truncate();
create trigger never_emptied before truncate on "exposure_reading" for each statement execute function refuse_truncate();
create trigger never_emptied before truncate on "exposure_interruption" for each statement execute function refuse_truncate();

create trigger write_snapshot before insert on "exposure_observation" for each row
  execute function take_snapshot('seenBy person seenById');
create trigger write_snapshot before insert on "exposure_correction" for each row
  execute function take_snapshot('correctedBy person correctedById');
create trigger write_snapshot before insert on "exposure_reading" for each row
  execute function take_snapshot('readBy person readById');
create trigger write_snapshot before insert or update on "exposure_interruption" for each row
  execute function take_snapshot('enteredBy person enteredById', 'endedBy person endedById');

insert into "number_series" ("kind", "prefix") values ('exposure-test', 'ET-');

select chain_writes_of(name) from unnest(array[
  'exposure_test', 'exposure_observation', 'exposure_correction', 'exposure_reading', 'exposure_interruption'
]) with ordinality as t (name, place) order by place;
