-- What a customer agreed a colour to be is a record of its own, in revisions that a second person approves.
create table "colour_standard" (
    "id" serial not null,
    "code" text not null,
    "customerId" integer,
    "createdAt" timestamptz(3) not null default now(),

    constraint "colour_standard_pkey" primary key ("id")
);
create unique index "colour_standard_code_key" on "colour_standard"("code");
create index "colour_standard_customerId_idx" on "colour_standard"("customerId");

create table "colour_standard_revision" (
    "id" serial not null,
    "standardId" integer not null,
    "revision" integer not null,
    "status" text not null default 'draft',
    "name" text not null,
    "target" jsonb,
    "light" jsonb,
    "dark" jsonb,
    "conditions" jsonb,
    "instrument" text not null default '',
    "tolerance" jsonb,
    "sample" jsonb,
    "photoId" integer,
    "grade" text not null,
    "agreedBy" text not null default '',
    "agreedOn" date,
    "expiresOn" date,
    "notes" text not null default '',
    "changeNote" text not null default '',
    "authorId" integer,
    "writerIds" integer[] default array[]::integer[],
    "takenOverFrom" text not null default '',
    "createdAt" timestamptz(3) not null default now(),
    "approvedById" integer,
    "approvedAt" timestamptz(3),
    "selfApproved" boolean not null default false,
    "endedAt" timestamptz(3),
    "endReason" text not null default '',
    "version" integer not null default 1,
    "snapshot" jsonb not null default '{}',

    constraint "colour_standard_revision_pkey" primary key ("id")
);
create unique index "colour_standard_revision_standardId_revision_key" on "colour_standard_revision"("standardId", "revision");
create index "colour_standard_revision_photoId_idx" on "colour_standard_revision"("photoId");

alter table "colour_standard" add constraint "colour_standard_customerId_fkey" foreign key ("customerId") references "customer"("id") on delete set null on update cascade;
alter table "colour_standard_revision" add constraint "colour_standard_revision_standardId_fkey" foreign key ("standardId") references "colour_standard"("id") on delete restrict on update cascade;
alter table "colour_standard_revision" add constraint "colour_standard_revision_photoId_fkey" foreign key ("photoId") references "file"("id") on delete set null on update cascade;

alter table "part" add column "colourStandardId" integer;
create index "part_colourStandardId_idx" on "part"("colourStandardId");
alter table "part" add constraint "part_colourStandardId_fkey" foreign key ("colourStandardId") references "colour_standard"("id") on delete set null on update cascade;

-- What makes no sense is not stored.
alter table "colour_standard_revision"
  add constraint "colour_standard_revision_status" check ("status" in ('draft', 'approved', 'superseded', 'retired')),
  add constraint "colour_standard_revision_grade" check ("grade" in ('measured', 'compared', 'photo', 'word')),
  add constraint "colour_standard_revision_figures" check (
    ("target" is null) = ("tolerance" is null) and ("target" is null) = ("conditions" is null)
    and ("target" is not null or num_nonnulls("light", "dark") = 0)),
  add constraint "colour_standard_revision_grade_stands" check (
    case "grade" when 'measured' then "target" is not null when 'compared' then "sample" is not null
      when 'photo' then "photoId" is not null else true end),
  add constraint "colour_standard_revision_decides" check ("status" = 'draft' or "grade" in ('measured', 'compared')),
  add constraint "colour_standard_revision_origin" check (("authorId" is null) = ("takenOverFrom" <> '')),
  add constraint "colour_standard_revision_approval" check (
    ("status" = 'draft') = ("approvedAt" is null)
    and case when "takenOverFrom" = '' then ("status" = 'draft') = ("approvedById" is null) else "approvedById" is null end),
  add constraint "colour_standard_revision_second_person" check (
    coalesce("approvedById" = "authorId" or "approvedById" = any ("writerIds"), false) = "selfApproved"),
  add constraint "colour_standard_revision_end" check (("status" in ('superseded', 'retired')) = ("endedAt" is not null));

-- One of a kind.
create unique index "colour_standard_one_approved" on "colour_standard_revision" ("standardId") where "status" = 'approved';
create unique index "colour_standard_one_draft" on "colour_standard_revision" ("standardId") where "status" = 'draft';

-- An approved revision changes only on its way out.
create function colour_standard_revision_frozen() returns trigger language plpgsql as $$
declare fate text[] := array['status', 'endedAt', 'endReason', 'version'];
begin
  if old."status" <> 'draft' and (
    tg_op = 'DELETE'
    or (to_jsonb(new) - fate) is distinct from (to_jsonb(old) - fate)
    or not (old."status" = 'approved' and new."status" in ('superseded', 'retired')))
  then
    raise exception 'revision % of a colour standard is %: make a new revision', old."revision", old."status"
      using errcode = 'HU001';
  end if;
  return case when tg_op = 'DELETE' then old else new end;
end $$;
create trigger colour_standard_revision_frozen before update or delete on "colour_standard_revision"
  for each row execute function colour_standard_revision_frozen();
create trigger never_emptied before truncate on "colour_standard_revision" for each statement execute function refuse_truncate();
create trigger self_approval_allowed before update of "selfApproved" on "colour_standard_revision"
  for each row execute function self_approval_allowed();

-- The code and the customer it was approved for: a merge of customers moves the standard, its revisions go on showing those.
create function take_colour_standard() returns trigger language plpgsql as $$
begin
  if new."approvedAt" is not null and not new."snapshot" ? 'standard' then
    new."snapshot" := new."snapshot" || jsonb_build_object('standard', (
      select jsonb_build_object('code', s."code", 'customer', snapshot_of('customer', s."customerId"))
        from "colour_standard" s where s."id" = new."standardId"));
  end if;
  return new;
end $$;
create trigger write_snapshot before insert or update on "colour_standard_revision" for each row
  execute function take_snapshot('author person authorId', 'approvedBy person approvedById');
create trigger write_snapshot_standard before insert or update on "colour_standard_revision" for each row
  execute function take_colour_standard();
create trigger write_snapshot_writers before insert or update on "colour_standard_revision" for each row
  execute function take_writers();

-- What a revision asks for, as records and papers show it.
create function agreed_colour(r "colour_standard_revision") returns jsonb language sql stable as $$
  select jsonb_build_object(
    'standardId', s."id", 'revisionId', r."id", 'code', s."code", 'revision', r."revision", 'status', r."status",
    'name', r."name", 'basis', case when r."target" is null then case when r."sample" is null then 'words' else 'sample' end
                                    when r."sample" is null then 'lab' else 'lab-and-sample' end,
    'target', r."target", 'light', r."light", 'dark', r."dark", 'conditions', r."conditions", 'instrument', r."instrument",
    'tolerance', r."tolerance", 'sample', r."sample", 'grade', r."grade", 'agreedBy', r."agreedBy",
    'agreedOn', r."agreedOn"::text, 'expiresOn', r."expiresOn"::text)
    from "colour_standard" s where s."id" = r."standardId"
$$;
-- Of a standard: the revision in force, else the newest.
create function agreed_colour(standard integer) returns jsonb language sql stable as $$
  select agreed_colour(r) from "colour_standard_revision" r where r."standardId" = $1
   order by r."status" = 'approved' desc, r."revision" desc limit 1
$$;

select chain_writes_of('colour_standard_revision');
