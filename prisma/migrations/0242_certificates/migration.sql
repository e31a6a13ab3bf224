-- Certificates of conformance: what a named person signed of a shipment, drawn from the record and frozen with it. One that turns out
-- wrong is replaced by the next revision or withdrawn, each with a reason; whoever holds a copy can ask whether it stands.
create table "certificate" (
  "id" serial not null,
  "number" text not null,
  "revision" integer not null,
  "shipmentId" integer not null,
  "lotId" integer not null,
  "facts" jsonb not null,
  "concerns" text[] default '{}',
  "statement" text not null,
  "deviations" text not null default '',
  "jobTitle" text not null,
  "checkCode" text not null,
  "replacesId" integer,
  "reason" text not null default '',
  "signedById" integer not null,
  "signedAt" timestamptz(3) not null default current_timestamp,
  "withdrawnById" integer,
  "withdrawnAt" timestamptz(3),
  "withdrawReason" text not null default '',
  "snapshot" jsonb not null default '{}',
  constraint "certificate_pkey" primary key ("id"),
  constraint "certificate_shipmentId_fkey" foreign key ("shipmentId") references "shipment" ("id") on delete restrict on update cascade,
  constraint "certificate_lotId_fkey" foreign key ("lotId") references "lot" ("id") on delete restrict on update cascade,
  constraint "certificate_replacesId_fkey" foreign key ("replacesId") references "certificate" ("id") on delete restrict on update cascade,
  constraint "certificate_reason" check (("replacesId" is null) = ("reason" = '')),
  constraint "certificate_revision" check (("replacesId" is null) = ("revision" = 1)),
  constraint "certificate_withdrawn" check (
    ("withdrawnAt" is null) = ("withdrawnById" is null) and ("withdrawnAt" is null) = ("withdrawReason" = '')),
  constraint "certificate_says_why" check (cardinality("concerns") = 0 or "deviations" <> '')
);
create unique index "certificate_number_revision_key" on "certificate" ("number", "revision");
create unique index "certificate_checkCode_key" on "certificate" ("checkCode");
create unique index "certificate_replacesId_key" on "certificate" ("replacesId");
create index "certificate_shipmentId_idx" on "certificate" ("shipmentId");
create index "certificate_lotId_idx" on "certificate" ("lotId");
-- A shipment has one first certificate; what follows replaces it.
create unique index "certificate_one_first" on "certificate" ("shipmentId") where "replacesId" is null;

create trigger write_snapshot before insert or update on "certificate" for each row
  execute function take_snapshot('signedBy person signedById', 'withdrawnBy person withdrawnById');

create function certificate_frozen() returns trigger language plpgsql as $$
declare fate text[] := array['withdrawnById', 'withdrawnAt', 'withdrawReason'];
begin
  if tg_op = 'DELETE' or old."withdrawnAt" is not null or to_jsonb(old) - fate <> to_jsonb(new) - fate then
    raise exception 'certificate % revision % is issued: replace or withdraw it', old."number", old."revision"
      using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger certificate_frozen before update or delete on "certificate"
  for each row execute function certificate_frozen();
create trigger never_emptied before truncate on "certificate" for each statement execute function refuse_truncate();

alter table "issued_paper" drop constraint "issued_paper_kind_check";
alter table "issued_paper" add constraint "issued_paper_kind_check" check ("kind" in ('quotation', 'traveler', 'certificate'));
insert into "number_series" ("kind", "prefix") values ('certificate', 'CC-');

select chain_writes_of('certificate');
