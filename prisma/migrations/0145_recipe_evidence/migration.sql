-- What stands behind a recipe revision: coupon series, trial lots and first articles, each for one alloy in one condition;
-- and what was allowed without any, by name and with a reason.
create table "recipe_evidence" (
  "id" serial primary key,
  "revisionId" integer not null,
  "kind" text not null,
  "grade" text not null,
  "materialId" integer not null,
  "alloy" text not null,
  "condition" text not null,
  "baseMetal" text not null,
  "seriesId" integer,
  "lotId" integer,
  "lotNumber" text,
  "pieces" integer not null,
  "firstComparerId" integer,
  "secondComparerId" integer,
  "instrument" text not null default '',
  "labL" double precision,
  "labA" double precision,
  "labB" double precision,
  "note" text not null default '',
  "expiresOn" date,
  "citedInDraft" boolean not null,
  "citedById" integer not null,
  "citedAt" timestamptz(3) not null default current_timestamp,
  "withdrawnById" integer,
  "withdrawnAt" timestamptz(3),
  "withdrawReason" text not null default '',
  "snapshot" jsonb not null default '{}',
  constraint "recipe_evidence_revisionId_fkey" foreign key ("revisionId") references "recipe_revision" ("id")
    on delete cascade on update cascade,
  constraint "recipe_evidence_materialId_fkey" foreign key ("materialId") references "material" ("id")
    on delete restrict on update cascade,
  constraint "recipe_evidence_seriesId_fkey" foreign key ("seriesId") references "coupon_series" ("id")
    on delete restrict on update cascade,
  constraint "recipe_evidence_kind" check ("kind" in ('coupons', 'first-article', 'trial-lot')),
  constraint "recipe_evidence_grade" check ("grade" in ('measured', 'compared', 'photo', 'word')),
  constraint "recipe_evidence_source" check (
    ("kind" = 'coupons') = ("seriesId" is not null) and ("kind" <> 'coupons') = ("lotId" is not null)
    and ("lotId" is null) = ("lotNumber" is null) and "pieces" > 0),
  constraint "recipe_evidence_comparers" check (
    ("grade" = 'compared') = ("firstComparerId" is not null) and ("grade" = 'compared') = ("secondComparerId" is not null)
    and "firstComparerId" is distinct from coalesce("secondComparerId", 0)),
  constraint "recipe_evidence_colour" check (num_nulls("labL", "labA", "labB") in (0, 3)),
  constraint "recipe_evidence_withdrawal" check (
    ("withdrawnById" is null) = ("withdrawnAt" is null) and ("withdrawnAt" is null) = ("withdrawReason" = ''))
);
create index "recipe_evidence_revisionId_idx" on "recipe_evidence" ("revisionId");
create index "recipe_evidence_seriesId_idx" on "recipe_evidence" ("seriesId");
create index "recipe_evidence_lotId_idx" on "recipe_evidence" ("lotId");
create index "recipe_evidence_materialId_idx" on "recipe_evidence" ("materialId");
-- A series or a lot is cited once as long as it counts.
create unique index "recipe_evidence_one_series" on "recipe_evidence" ("revisionId", "seriesId") where "withdrawnAt" is null;
create unique index "recipe_evidence_one_lot" on "recipe_evidence" ("revisionId", "lotId") where "withdrawnAt" is null;

create trigger write_snapshot before insert or update on "recipe_evidence" for each row
  execute function take_snapshot('citedBy person citedById',
    'firstComparer person firstComparerId', 'secondComparer person secondComparerId', 'withdrawnBy person withdrawnById');

-- Of a draft it may go; of any other revision it stands, and is at most withdrawn, once.
create function recipe_evidence_frozen() returns trigger language plpgsql as $$
declare fate text[] := array['withdrawnById', 'withdrawnAt', 'withdrawReason'];
begin
  if not exists (select from "recipe_revision" r where r."id" = old."revisionId" and r."status" <> 'draft') then
    return case when tg_op = 'DELETE' then old else new end;
  end if;
  if tg_op = 'DELETE' or old."withdrawnAt" is not null or (to_jsonb(new) - fate) is distinct from (to_jsonb(old) - fate) then
    raise exception 'evidence of an approved recipe revision is kept as it was cited' using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger recipe_evidence_frozen before update or delete on "recipe_evidence"
  for each row execute function recipe_evidence_frozen();
create trigger never_emptied before truncate on "recipe_evidence"
  for each statement execute function refuse_truncate();

create table "evidence_exception" (
  "id" serial primary key,
  "place" text not null,
  "recipeRevisionId" integer not null,
  "materialId" integer,
  "quotationRevisionId" integer,
  "lotId" integer,
  "stepId" integer,
  "recordNumber" text not null,
  "finding" text not null,
  "reason" text not null,
  "allowedById" integer not null,
  "askedById" integer not null,
  "allowedAt" timestamptz(3) not null default current_timestamp,
  "snapshot" jsonb not null default '{}',
  constraint "evidence_exception_recipeRevisionId_fkey" foreign key ("recipeRevisionId") references "recipe_revision" ("id")
    on delete restrict on update cascade,
  constraint "evidence_exception_materialId_fkey" foreign key ("materialId") references "material" ("id")
    on delete restrict on update cascade,
  constraint "evidence_exception_place" check (
    case "place"
      when 'approval' then num_nonnulls("materialId", "quotationRevisionId", "lotId", "stepId") = 0
      when 'quotation' then "materialId" is not null and "quotationRevisionId" is not null
      when 'release' then "materialId" is not null and "lotId" is not null
      when 'signature' then "materialId" is not null and "lotId" is not null and "stepId" is not null
      else false end),
  constraint "evidence_exception_words" check ("reason" <> '' and "finding" <> '')
);
create index "evidence_exception_recipeRevisionId_idx" on "evidence_exception" ("recipeRevisionId");
create index "evidence_exception_quotationRevisionId_idx" on "evidence_exception" ("quotationRevisionId");
create index "evidence_exception_lotId_idx" on "evidence_exception" ("lotId");
create index "evidence_exception_materialId_idx" on "evidence_exception" ("materialId");

create trigger write_snapshot before insert on "evidence_exception" for each row
  execute function take_snapshot('recipe recipe recipeRevisionId', 'material material materialId',
    'allowedBy person allowedById', 'askedBy person askedById');
create trigger evidence_exception_stands before update or delete on "evidence_exception"
  for each row execute function refuse_change('what was allowed without evidence');
create trigger never_emptied before truncate on "evidence_exception"
  for each statement execute function refuse_truncate();

select chain_writes_of('recipe_evidence');
select chain_writes_of('evidence_exception');
