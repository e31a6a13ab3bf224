-- Calibrations: how thick a film one shop grows at a voltage, on one material in one kind of bath, fitted to coupons of series
-- that were approved. Of the coupons it keeps what they showed, and why one was left out.
create table "calibration" (
  "id" serial not null,
  "code" text not null,
  "revision" integer not null,
  "status" text not null default 'draft',
  "name" text not null,
  "materialId" integer not null,
  "contents" text not null,
  "film" text not null,
  "substrate" text not null,
  "angleDeg" double precision not null default 0,
  "voidFraction" double precision not null default 0,
  "surface" text not null default '',
  "seriesIds" integer[] default array[]::integer[],
  "coupons" jsonb not null,
  "fit" jsonb not null,
  "calcVersion" text not null,
  "notes" text not null default '',
  "changeNote" text not null default '',
  "authorId" integer not null,
  "writerIds" integer[] default array[]::integer[],
  "createdAt" timestamptz(3) not null default current_timestamp,
  "approvedById" integer,
  "approvedAt" timestamptz(3),
  "selfApproved" boolean not null default false,
  "endedAt" timestamptz(3),
  "endReason" text not null default '',
  "version" integer not null default 1,
  "snapshot" jsonb not null default '{}',
  constraint "calibration_pkey" primary key ("id"),
  constraint "calibration_materialId_fkey" foreign key ("materialId") references "material" ("id") on delete restrict on update cascade
);
create unique index "calibration_code_revision_key" on "calibration" ("code", "revision");
create index "calibration_materialId_idx" on "calibration" ("materialId");

-- What makes no sense is not stored.
alter table "calibration"
  add constraint "calibration_status" check ("status" in ('draft', 'approved', 'superseded', 'retired')),
  add constraint "calibration_series" check (cardinality("seriesIds") > 0),
  add constraint "calibration_film" check ("angleDeg" >= 0 and "angleDeg" < 90 and "voidFraction" >= 0 and "voidFraction" < 1),
  add constraint "calibration_decided" check ("status" = 'draft' or "fit" ->> 'verdict' = 'good'),
  add constraint "calibration_second_person" check (
    coalesce("approvedById" = "authorId" or "approvedById" = any ("writerIds"), false) = "selfApproved"),
  add constraint "calibration_approval" check (
    ("status" = 'draft') = ("approvedById" is null) and ("status" = 'draft') = ("approvedAt" is null)),
  add constraint "calibration_end" check (("status" in ('superseded', 'retired')) = ("endedAt" is not null));

-- One of a kind.
create unique index "calibration_one_approved" on "calibration" ("code") where "status" = 'approved';
create unique index "calibration_one_draft" on "calibration" ("code") where "status" = 'draft';

-- An approved revision changes only on its way out.
create function calibration_frozen() returns trigger language plpgsql as $$
declare fate text[] := array['status', 'endedAt', 'endReason', 'version'];
begin
  if old."status" <> 'draft' and (
    tg_op = 'DELETE'
    or (to_jsonb(new) - fate) is distinct from (to_jsonb(old) - fate)
    or not (old."status" = 'approved' and new."status" in ('superseded', 'retired')))
  then
    raise exception 'calibration % revision % is %: make a new revision', old."code", old."revision", old."status"
      using errcode = 'HU001';
  end if;
  return case when tg_op = 'DELETE' then old else new end;
end $$;
create trigger calibration_frozen before update or delete on "calibration"
  for each row execute function calibration_frozen();
create trigger never_emptied before truncate on "calibration" for each statement execute function refuse_truncate();
create trigger self_approval_allowed before update of "selfApproved" on "calibration"
  for each row execute function self_approval_allowed();
create trigger write_snapshot before insert or update on "calibration" for each row
  execute function take_snapshot('author person authorId', 'approvedBy person approvedById', 'material material materialId when approvedAt');
create trigger write_snapshot_writers before insert or update on "calibration" for each row execute function take_writers();

select chain_writes_of('calibration');
