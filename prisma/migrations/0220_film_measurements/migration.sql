-- What was measured of the film of a coupon: by cross-section, by stripping, by diffraction, or its pores. A measurement names its
-- coupon by the code of the series and by its mark: revisions of a series are copies, and a draft may be thrown away. It stands for
-- ever; one that was wrong is replaced by another, or withdrawn, by a row that says why.
create table "film_measurement" (
  "id" serial not null,
  "number" text not null,
  "seriesCode" text not null,
  "mark" text not null,
  "coupon" jsonb not null,
  "materialId" integer not null,
  "kind" text not null,
  "measuredOn" date not null,
  "laboratory" text not null,
  "instrument" text not null default '',
  "evidence" jsonb not null,
  "fileId" integer,
  "result" jsonb not null,
  "thicknessNm" double precision,
  "standardUncertaintyNm" double precision,
  "doubts" text[] default '{}',
  "calcVersion" text not null,
  "note" text not null default '',
  "replacesId" integer,
  "isWithdrawal" boolean not null default false,
  "reason" text not null default '',
  "enteredById" integer not null,
  "enteredAt" timestamptz(3) not null default current_timestamp,
  "snapshot" jsonb not null default '{}',
  constraint "film_measurement_pkey" primary key ("id"),
  constraint "film_measurement_materialId_fkey" foreign key ("materialId") references "material" ("id") on delete restrict on update cascade,
  constraint "film_measurement_fileId_fkey" foreign key ("fileId") references "file" ("id") on delete restrict on update cascade,
  constraint "film_measurement_replacesId_fkey" foreign key ("replacesId") references "film_measurement" ("id") on delete restrict on update cascade,
  constraint "film_measurement_kind" check ("kind" in ('cross-section', 'coating-mass', 'diffraction', 'pores')),
  constraint "film_measurement_thickness" check (
    ("kind" in ('cross-section', 'coating-mass')) = ("thicknessNm" is not null)
    and ("thicknessNm" is null) = ("standardUncertaintyNm" is null)
    and "thicknessNm" > 0 and "standardUncertaintyNm" > 0),
  constraint "film_measurement_reason" check (("replacesId" is null) = ("reason" = '')),
  constraint "film_measurement_withdrawal" check (not "isWithdrawal" or "replacesId" is not null)
);
create unique index "film_measurement_number_key" on "film_measurement" ("number");
create unique index "film_measurement_replacesId_key" on "film_measurement" ("replacesId");
create index "film_measurement_seriesCode_mark_idx" on "film_measurement" ("seriesCode", "mark");
create index "film_measurement_fileId_idx" on "film_measurement" ("fileId");
create trigger write_snapshot before insert on "film_measurement" for each row
  execute function take_snapshot('material material materialId', 'enteredBy person enteredById');
create trigger film_measurement_stands before update or delete on "film_measurement"
  for each row execute function refuse_change('a film measurement');
create trigger never_emptied before truncate on "film_measurement"
  for each statement execute function refuse_truncate();

insert into "number_series" ("kind", "prefix") values ('film-measurement', 'FM-');

select chain_writes_of('film_measurement');
