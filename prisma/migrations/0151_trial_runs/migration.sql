-- A trial run: coupons or a strip that the lab plans for a coupon series and that is run and signed at the tank, like a step.
-- What happened there is a row each; what each coupon or band was made under is reckoned from them when it is signed.

insert into "number_series" ("kind", "prefix") values ('trial-run', 'TR-');

create table "trial_run" (
    "id" serial not null,
    "number" text not null,
    "seriesCode" text not null,
    "materialId" integer not null,
    "contents" text not null,
    "component" text not null,
    "unit" text not null,
    "referenceTemperatureC" double precision,
    "kind" text not null,
    "pieces" integer not null,
    "tankId" integer not null,
    "supplyId" integer,
    "coatingThicknessUm" double precision,
    "temperatureC" double precision not null,
    "voltageV" double precision,
    "timeS" double precision,
    "intervalS" double precision,
    "stepMm" double precision,
    "instructions" text not null default '',
    "plannedById" integer not null,
    "plannedAt" timestamptz(3) not null default current_timestamp,
    "state" text not null default 'planned',
    "bathId" integer,
    "bathState" text,
    "bathReasons" text[] default array[]::text[],
    "strength" double precision,
    "analysisId" integer,
    "signedById" integer,
    "signedAt" timestamptz(3),
    "areaMm2" double precision,
    "reason" text not null default '',
    "note" text not null default '',
    "withdrawnById" integer,
    "withdrawnAt" timestamptz(3),
    "withdrawReason" text not null default '',
    "version" integer not null default 1,
    "snapshot" jsonb not null default '{}',
    constraint "trial_run_pkey" primary key ("id")
);
create unique index "trial_run_number_key" on "trial_run"("number");
create index "trial_run_seriesCode_idx" on "trial_run"("seriesCode");
create index "trial_run_tankId_idx" on "trial_run"("tankId");
alter table "trial_run" add constraint "trial_run_materialId_fkey" foreign key ("materialId") references "material"("id") on delete restrict on update cascade;
alter table "trial_run" add constraint "trial_run_tankId_fkey" foreign key ("tankId") references "tank"("id") on delete restrict on update cascade;
alter table "trial_run" add constraint "trial_run_supplyId_fkey" foreign key ("supplyId") references "power_supply"("id") on delete set null on update cascade;
alter table "trial_run" add constraint "trial_run_bathId_fkey" foreign key ("bathId") references "bath"("id") on delete set null on update cascade;
alter table "trial_run" add constraint "trial_run_analysisId_fkey" foreign key ("analysisId") references "analysis"("id") on delete set null on update cascade;
alter table "trial_run"
  add constraint "trial_run_state" check ("state" in ('planned', 'running', 'signed', 'withdrawn')),
  add constraint "trial_run_kind" check (
    "kind" in ('coupons', 'strip') and "pieces" between 1 and 100
    and ("kind" = 'coupons') = ("timeS" is not null) and ("kind" = 'strip') = ("intervalS" is not null)
    and ("kind" = 'strip') = ("stepMm" is not null)),
  add constraint "trial_run_settings" check (
    "voltageV" >= 0 and "timeS" > 0 and "intervalS" > 0 and "stepMm" > 0 and "coatingThicknessUm" > 0),
  add constraint "trial_run_bath" check (
    ("state" in ('running', 'signed')) <= ("bathId" is not null and "strength" is not null and "bathState" is not null)),
  add constraint "trial_run_signature" check (
    ("state" = 'signed') = ("signedById" is not null) and ("signedById" is null) = ("signedAt" is null)),
  add constraint "trial_run_withdrawal" check (
    ("state" = 'withdrawn') = ("withdrawnById" is not null) and ("withdrawnById" is null) = ("withdrawnAt" is null)
    and ("withdrawnById" is null) = ("withdrawReason" = ''));

create function trial_run_stands() returns trigger language plpgsql as $$
declare later text[] := array['state', 'bathId', 'bathState', 'bathReasons', 'strength', 'analysisId', 'signedById', 'signedAt', 'areaMm2',
  'reason', 'note', 'withdrawnById', 'withdrawnAt', 'withdrawReason', 'version', 'snapshot'];
begin
  if tg_op = 'DELETE' or old."state" in ('signed', 'withdrawn')
    or (to_jsonb(new) - later) is distinct from (to_jsonb(old) - later)
  then
    raise exception 'trial run % is kept as it was planned, and as it was signed', old."number" using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger trial_run_stands before update or delete on "trial_run"
  for each row execute function trial_run_stands();
create trigger never_emptied before truncate on "trial_run" for each statement execute function refuse_truncate();
create trigger write_snapshot before insert or update on "trial_run" for each row
  execute function take_snapshot('plannedBy person plannedById',
    'signedBy person signedById',
    'withdrawnBy person withdrawnById',
    'material material materialId',
    'tank tank tankId',
    'supply supply supplyId',
    'bath bath bathId when signedAt');

create table "trial_event" (
    "id" serial not null,
    "runId" integer not null,
    "kind" text not null,
    "at" timestamptz(3) not null,
    "personId" integer not null,
    "temperatureC" double precision,
    "voltageV" double precision,
    "currentA" double precision,
    "pH" double precision,
    "supplyOff" boolean,
    "bathId" integer,
    "bathState" text,
    "reason" text not null default '',
    "snapshot" jsonb not null default '{}',
    constraint "trial_event_pkey" primary key ("id")
);
create index "trial_event_runId_idx" on "trial_event"("runId");
alter table "trial_event" add constraint "trial_event_runId_fkey" foreign key ("runId") references "trial_run"("id") on delete restrict on update cascade;
alter table "trial_event" add constraint "trial_event_bathId_fkey" foreign key ("bathId") references "bath"("id") on delete set null on update cascade;
alter table "trial_event"
  add constraint "trial_event_kind" check ("kind" in ('in', 'lift', 'pause', 'resume', 'reading', 'out', 'reset', 'override')),
  add constraint "trial_event_reading" check (("kind" = 'reading') = ("temperatureC" is not null)),
  add constraint "trial_event_pause" check (("kind" = 'pause') = ("supplyOff" is not null)),
  add constraint "trial_event_override" check (
    ("kind" = 'override') = ("bathId" is not null) and ("kind" = 'override') = ("bathState" is not null)),
  add constraint "trial_event_reason" check ("kind" not in ('pause', 'override') or length(trim("reason")) > 0);
create trigger trial_event_stands before update or delete on "trial_event"
  for each row execute function refuse_change('what happened in a trial run');
create trigger never_emptied before truncate on "trial_event" for each statement execute function refuse_truncate();
create trigger write_snapshot before insert on "trial_event" for each row
  execute function take_snapshot('person person personId');

create table "trial_piece" (
    "id" serial not null,
    "runId" integer not null,
    "position" integer not null,
    "coatingThicknessUm" double precision,
    "temperatureC" double precision not null,
    "voltageV" double precision,
    "timeS" double precision not null,
    "strength" double precision not null,
    "pH" double precision,
    "currentDensityAPerM2" double precision,
    constraint "trial_piece_pkey" primary key ("id")
);
create unique index "trial_piece_runId_position_key" on "trial_piece"("runId", "position");
alter table "trial_piece" add constraint "trial_piece_runId_fkey" foreign key ("runId") references "trial_run"("id") on delete restrict on update cascade;
create trigger trial_piece_stands before update or delete on "trial_piece"
  for each row execute function refuse_change('what a coupon of a trial run was made under');
create trigger never_emptied before truncate on "trial_piece" for each statement execute function refuse_truncate();

-- A coupon that was run at the tank says in which run, and has an outcome once somebody has looked at it.
alter table "coupon_trial"
  alter column "outcome" drop not null,
  add column "runId" integer,
  add column "piece" integer;
create index "coupon_trial_runId_idx" on "coupon_trial"("runId");
alter table "coupon_trial" add constraint "coupon_trial_runId_fkey" foreign key ("runId") references "trial_run"("id") on delete set null on update cascade;
alter table "coupon_trial"
  add constraint "coupon_trial_run" check (("runId" is null) = ("piece" is null)),
  add constraint "coupon_trial_looked_at" check ("outcome" is not null or "runId" is not null);
create unique index "coupon_trial_one_piece" on "coupon_trial" ("seriesId", "runId", "piece") where "runId" is not null;

select chain_writes_of(name) from unnest(array['trial_run', 'trial_event', 'trial_piece']) with ordinality as t (name, place) order by place;
