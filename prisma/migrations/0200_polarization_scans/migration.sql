-- Scans through the corrosion potential of bare and coloured metal, with the rate that each gave. A scan stands for ever; one that was
-- entered wrongly is replaced by another that says why.
create table "polarization_scan" (
  "id" serial not null,
  "number" text not null,
  "materialId" integer not null,
  "finish" text not null,
  "specimen" text not null,
  "film" text not null default '',
  "medium" text not null,
  "temperatureC" double precision,
  "scannedOn" date not null,
  "areaMm2" double precision not null,
  "solutionResistanceOhm" double precision,
  "windowV" double precision not null,
  "sternGearyV" double precision not null,
  "equivalentWeight" double precision not null,
  "points" jsonb not null,
  "fileName" text not null default '',
  "note" text not null default '',
  "result" jsonb not null,
  "calcVersion" text not null,
  "replacesId" integer,
  "reason" text not null default '',
  "enteredById" integer not null,
  "enteredAt" timestamptz(3) not null default current_timestamp,
  "snapshot" jsonb not null default '{}',
  constraint "polarization_scan_pkey" primary key ("id"),
  constraint "polarization_scan_materialId_fkey" foreign key ("materialId") references "material" ("id") on delete restrict on update cascade,
  constraint "polarization_scan_replacesId_fkey" foreign key ("replacesId") references "polarization_scan" ("id") on delete restrict on update cascade,
  constraint "polarization_scan_finish" check ("finish" in ('bare', 'coloured', 'coloured-and-oiled')),
  constraint "polarization_scan_area" check ("areaMm2" > 0),
  constraint "polarization_scan_reason" check (("replacesId" is null) = ("reason" = ''))
);
create unique index "polarization_scan_number_key" on "polarization_scan" ("number");
create unique index "polarization_scan_replacesId_key" on "polarization_scan" ("replacesId");
create index "polarization_scan_materialId_medium_idx" on "polarization_scan" ("materialId", "medium");
create trigger write_snapshot before insert on "polarization_scan" for each row
  execute function take_snapshot('material material materialId', 'enteredBy person enteredById');
create trigger polarization_scan_stands before update or delete on "polarization_scan"
  for each row execute function refuse_change('a scan of polarization');
create trigger never_emptied before truncate on "polarization_scan"
  for each statement execute function refuse_truncate();

insert into "number_series" ("kind", "prefix") values ('polarization-scan', 'PS-');

select chain_writes_of('polarization_scan');
