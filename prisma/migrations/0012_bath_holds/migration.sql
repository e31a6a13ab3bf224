-- A bath on hold: while something is added and mixes in, or because the lab says so. Reports of outside laboratories.
-- What a lot of a chemical cost.

create table "bath_hold" (
    "id" serial not null,
    "bathId" integer not null,
    "additionId" integer,
    "reason" text not null,
    "fromAt" timestamptz(3) not null,
    "placedById" integer not null,
    "placedAt" timestamptz(3) not null default now(),
    "releasedAt" timestamptz(3),
    "releasedById" integer,
    "temperatureC" double precision,
    "mixedS" double precision,
    "analysisId" integer,
    "releaseNote" text not null default '',

    constraint "bath_hold_pkey" primary key ("id")
);
create unique index "bath_hold_additionId_key" on "bath_hold"("additionId");
create index "bath_hold_bathId_id_idx" on "bath_hold"("bathId", "id");
create index "bath_hold_analysisId_idx" on "bath_hold"("analysisId");
create index "bath_hold_open" on "bath_hold" ("bathId") where "releasedAt" is null;
alter table "bath_hold" add constraint "bath_hold_bathId_fkey" foreign key ("bathId") references "bath"("id") on delete restrict on update cascade;
alter table "bath_hold" add constraint "bath_hold_additionId_fkey" foreign key ("additionId") references "addition"("id") on delete set null on update cascade;
alter table "bath_hold" add constraint "bath_hold_analysisId_fkey" foreign key ("analysisId") references "analysis"("id") on delete set null on update cascade;
alter table "bath_hold"
  add constraint "bath_hold_released" check (("releasedAt" is null) = ("releasedById" is null)),
  add constraint "bath_hold_release_after" check ("releasedAt" is null or "releasedAt" >= "fromAt"),
  add constraint "bath_hold_mixed" check ("mixedS" is null or "mixedS" >= 0);

-- A hold is released once; then it stands, as does what placed it.
create function bath_hold_stands() returns trigger language plpgsql as $$
declare release text[] := array['releasedAt', 'releasedById', 'temperatureC', 'mixedS', 'analysisId', 'releaseNote'];
begin
  if tg_op = 'DELETE' or old."releasedAt" is not null
    or (to_jsonb(new) - release) is distinct from (to_jsonb(old) - release)
  then
    raise exception 'a hold of a bath is released once and kept as it was written' using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger bath_hold_stands before update or delete on "bath_hold"
  for each row execute function bath_hold_stands();

alter table "analysis"
  add column "outsideLaboratory" text,
  add column "outsideReport" text,
  add column "outsideReportedOn" date,
  add column "outsideFileId" integer;
create index "analysis_outsideFileId_idx" on "analysis"("outsideFileId");
alter table "analysis" add constraint "analysis_outsideFileId_fkey" foreign key ("outsideFileId") references "file"("id") on delete set null on update cascade;
alter table "analysis"
  add constraint "analysis_outside" check (
    ("outsideLaboratory" is null) = ("outsideReport" is null) and ("outsideLaboratory" is null) = ("outsideReportedOn" is null)
    and ("outsideFileId" is null or "outsideLaboratory" is not null));

alter table "chemical_lot" add column "pricePerKg" decimal(12,2);
