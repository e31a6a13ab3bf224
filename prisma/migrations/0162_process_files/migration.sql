-- Where recipes come from, and what was taken over from another shop: proved there, and not here.
create table "recipe_provenance" (
  "revisionId" integer not null,
  "origin" text not null default '',
  "priorArt" text not null default '',
  "rights" text not null default '',
  "version" integer not null default 1,
  constraint "recipe_provenance_pkey" primary key ("revisionId"),
  constraint "recipe_provenance_revisionId_fkey" foreign key ("revisionId") references "recipe_revision" ("id")
    on delete cascade on update cascade
);
create table "recipe_provenance_file" (
  "revisionId" integer not null,
  "fileId" integer not null,
  "position" integer not null,
  constraint "recipe_provenance_file_pkey" primary key ("revisionId", "fileId"),
  constraint "recipe_provenance_file_revisionId_fkey" foreign key ("revisionId") references "recipe_provenance" ("revisionId")
    on delete cascade on update cascade,
  constraint "recipe_provenance_file_fileId_fkey" foreign key ("fileId") references "file" ("id") on delete restrict on update cascade
);
create index "recipe_provenance_file_fileId_idx" on "recipe_provenance_file" ("fileId");

create table "process_import" (
  "id" serial not null,
  "recipeId" integer not null,
  "sha256" bytea not null,
  "shop" text not null,
  "recipe" text not null,
  "fingerprint" text not null,
  "exportedAt" timestamptz(3) not null,
  "personId" integer not null,
  "at" timestamptz(3) not null default current_timestamp,
  "snapshot" jsonb not null default '{}',
  constraint "process_import_pkey" primary key ("id"),
  constraint "process_import_recipeId_fkey" foreign key ("recipeId") references "recipe" ("id") on delete restrict on update cascade
);
create unique index "process_import_recipeId_key" on "process_import" ("recipeId");
create unique index "process_import_sha256_key" on "process_import" ("sha256");
create trigger write_snapshot before insert on "process_import" for each row execute function take_snapshot('by person personId');
create trigger process_import_stands before update or delete on "process_import"
  for each row execute function refuse_change('what was taken over from another shop');
create trigger never_emptied before truncate on "process_import" for each statement execute function refuse_truncate();
select chain_writes_of('process_import');

-- What proved it elsewhere stands beside the evidence of the shop, and is none.
alter table "recipe_evidence" add column "elsewhere" jsonb;
alter table "recipe_evidence"
  drop constraint "recipe_evidence_kind",
  drop constraint "recipe_evidence_source",
  drop constraint "recipe_evidence_comparers",
  add constraint "recipe_evidence_kind" check ("kind" in ('coupons', 'first-article', 'trial-lot', 'elsewhere')),
  add constraint "recipe_evidence_source" check (
    ("kind" = 'coupons') = ("seriesId" is not null) and ("kind" in ('first-article', 'trial-lot')) = ("lotId" is not null)
    and ("kind" = 'elsewhere') = ("elsewhere" is not null) and ("lotId" is null) = ("lotNumber" is null) and "pieces" > 0),
  add constraint "recipe_evidence_comparers" check (
    ("grade" = 'compared' and "kind" <> 'elsewhere') = ("firstComparerId" is not null)
    and ("grade" = 'compared' and "kind" <> 'elsewhere') = ("secondComparerId" is not null)
    and "firstComparerId" is distinct from coalesce("secondComparerId", 0));
