-- Coupon trials, kept in series that a second person approves.
create table "coupon_series" (
    "id" serial not null,
    "code" text not null,
    "revision" integer not null,
    "status" text not null default 'draft',
    "name" text not null,
    "materialId" integer not null,
    "contents" text not null,
    "preparation" text not null default '',
    "component" text not null,
    "unit" text not null,
    "referenceTemperatureC" double precision,
    "notes" text not null default '',
    "changeNote" text not null default '',
    "authorId" integer not null,
    "writerIds" integer[] default array[]::integer[],
    "createdAt" timestamptz(3) not null default now(),
    "approvedById" integer,
    "approvedAt" timestamptz(3),
    "endedAt" timestamptz(3),
    "endReason" text not null default '',
    "version" integer not null default 1,

    constraint "coupon_series_pkey" primary key ("id")
);
create unique index "coupon_series_code_revision_key" on "coupon_series"("code", "revision");
create index "coupon_series_materialId_idx" on "coupon_series"("materialId");

create table "coupon_trial" (
    "id" serial not null,
    "seriesId" integer not null,
    "position" integer not null,
    "mark" text not null default '',
    "temperatureC" double precision not null,
    "voltageV" double precision not null,
    "timeS" double precision not null,
    "strength" double precision not null,
    "outcome" text not null,
    "labL" double precision,
    "labA" double precision,
    "labB" double precision,
    "madeOn" date not null,
    "madeBy" text not null,

    constraint "coupon_trial_pkey" primary key ("id")
);
create unique index "coupon_trial_seriesId_position_key" on "coupon_trial"("seriesId", "position");

alter table "coupon_series" add constraint "coupon_series_materialId_fkey" foreign key ("materialId") references "material"("id") on delete restrict on update cascade;
alter table "coupon_trial" add constraint "coupon_trial_seriesId_fkey" foreign key ("seriesId") references "coupon_series"("id") on delete restrict on update cascade;

-- An approved series changes only on its way out; its trials never.
create function coupon_series_frozen() returns trigger language plpgsql as $$
declare fate text[] := array['status', 'endedAt', 'endReason', 'version'];
begin
  if old."status" <> 'draft' and (
    tg_op = 'DELETE'
    or (to_jsonb(new) - fate) is distinct from (to_jsonb(old) - fate)
    or not (old."status" = 'approved' and new."status" in ('superseded', 'retired')))
  then
    raise exception 'coupon series % revision % is %: make a new revision', old."code", old."revision", old."status"
      using errcode = 'HU001';
  end if;
  return case when tg_op = 'DELETE' then old else new end;
end $$;
create trigger coupon_series_frozen before update or delete on "coupon_series"
  for each row execute function coupon_series_frozen();

create function coupon_trial_frozen() returns trigger language plpgsql as $$
begin
  if exists (
    select 1 from "coupon_series" s
     where s."id" in (case when tg_op <> 'INSERT' then old."seriesId" end, case when tg_op <> 'DELETE' then new."seriesId" end)
       and s."status" <> 'draft'
  ) then
    raise exception 'the trials of an approved coupon series cannot be changed: make a new revision' using errcode = 'HU001';
  end if;
  return case when tg_op = 'DELETE' then old else new end;
end $$;
create trigger coupon_trial_frozen before insert or update or delete on "coupon_trial"
  for each row execute function coupon_trial_frozen();

-- One of a kind.
create unique index "coupon_series_one_approved" on "coupon_series" ("code") where "status" = 'approved';
create unique index "coupon_series_one_draft" on "coupon_series" ("code") where "status" = 'draft';

-- What makes no sense is not stored.
alter table "coupon_series"
  add constraint "coupon_series_status" check ("status" in ('draft', 'approved', 'superseded', 'retired')),
  add constraint "coupon_series_second_person" check (
    "approvedById" is null or ("approvedById" <> "authorId" and not ("approvedById" = any ("writerIds")))),
  add constraint "coupon_series_approval" check (("status" = 'draft') = ("approvedById" is null) and ("status" = 'draft') = ("approvedAt" is null)),
  add constraint "coupon_series_end" check (("status" in ('superseded', 'retired')) = ("endedAt" is not null)),
  add constraint "coupon_series_unit" check (
    "unit" in ('massFraction', 'gramsPerLitre', 'molPerLitre') and ("unit" = 'massFraction') = ("referenceTemperatureC" is null));
alter table "coupon_trial"
  add constraint "coupon_trial_setting" check ("voltageV" >= 0 and "timeS" > 0 and "strength" > 0),
  add constraint "coupon_trial_outcome" check ("outcome" in ('none', 'interference', 'dark')),
  add constraint "coupon_trial_colour" check (num_nulls("labL", "labA", "labB") in (0, 3));
