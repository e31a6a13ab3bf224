-- Tables that were imported, by what was in them: the same file is not brought twice.
create table "table_import" (
  "id" serial primary key,
  "kind" text not null,
  "sha256" bytea not null,
  "personId" integer not null,
  "records" integer not null,
  "at" timestamptz(3) not null default current_timestamp
);
create unique index "table_import_kind_sha256_key" on "table_import" ("kind", "sha256");
alter table "table_import"
  add constraint "table_import_kind" check ("kind" in ('customers', 'parts', 'materials', 'chemicals')),
  add constraint "table_import_records" check ("records" > 0);
