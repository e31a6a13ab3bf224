-- Who is fit for which work: granted by name on evidence until a day, withdrawn with a reason, never changed. Where the shop turned the rule
-- on, work outside it takes the word of quality or an owner, which stays with the record.
alter table "shop" add column "competenceRule" boolean not null default false;

create table "competence" (
  "id" serial not null,
  "personId" integer not null,
  "activity" text not null,
  "family" text,
  "fromOn" date not null,
  "untilOn" date,
  "evidence" text not null,
  "fileId" integer,
  "grantedById" integer not null,
  "grantedAt" timestamptz(3) not null default current_timestamp,
  "withdrawnById" integer,
  "withdrawnAt" timestamptz(3),
  "withdrawReason" text not null default '',
  "snapshot" jsonb not null default '{}',
  constraint "competence_pkey" primary key ("id"),
  constraint "competence_personId_fkey" foreign key ("personId") references "person" ("id") on delete restrict on update cascade,
  constraint "competence_activity" check ("activity" in ('sign', 'analyse', 'approve')),
  constraint "competence_days" check ("untilOn" >= "fromOn"),
  constraint "competence_withdrawn" check (
    ("withdrawnAt" is null) = ("withdrawnById" is null) and ("withdrawnAt" is null) = ("withdrawReason" = ''))
);
create index "competence_personId_idx" on "competence" ("personId");
create index "competence_fileId_idx" on "competence" ("fileId");
create trigger write_snapshot before insert or update on "competence" for each row
  execute function take_snapshot('person person personId', 'grantedBy person grantedById', 'withdrawnBy person withdrawnById');
create function competence_frozen() returns trigger language plpgsql as $$
begin
  if tg_op = 'DELETE' or old."withdrawnAt" is not null
     or to_jsonb(old) - array['withdrawnById', 'withdrawnAt', 'withdrawReason', 'snapshot']
        <> to_jsonb(new) - array['withdrawnById', 'withdrawnAt', 'withdrawReason', 'snapshot'] then
    raise exception 'a competence stands as it was granted: withdraw it and grant another' using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger competence_frozen before update or delete on "competence" for each row execute function competence_frozen();
create trigger never_emptied before truncate on "competence" for each statement execute function refuse_truncate();

-- The word that one person does one thing outside their competence.
create table "competence_override" (
  "id" serial not null,
  "activity" text not null,
  "family" text,
  "personId" integer not null,
  "stepId" integer,
  "bathId" integer,
  "recipeRevisionId" integer,
  "reason" text not null,
  "grantedById" integer not null,
  "askedById" integer not null,
  "grantedAt" timestamptz(3) not null default current_timestamp,
  "snapshot" jsonb not null default '{}',
  constraint "competence_override_pkey" primary key ("id"),
  constraint "competence_override_personId_fkey" foreign key ("personId") references "person" ("id") on delete restrict on update cascade,
  constraint "competence_override_stepId_fkey" foreign key ("stepId") references "traveler_step" ("id") on delete restrict on update cascade,
  constraint "competence_override_bathId_fkey" foreign key ("bathId") references "bath" ("id") on delete restrict on update cascade,
  constraint "competence_override_recipeRevisionId_fkey" foreign key ("recipeRevisionId") references "recipe_revision" ("id")
    on delete restrict on update cascade,
  constraint "competence_override_about" check (
    case "activity"
      when 'sign' then "stepId" is not null and num_nonnulls("bathId", "recipeRevisionId") = 0
      when 'analyse' then "bathId" is not null and num_nonnulls("stepId", "recipeRevisionId") = 0
      when 'approve' then "recipeRevisionId" is not null and num_nonnulls("stepId", "bathId") = 0
      else false end)
);
create index "competence_override_stepId_idx" on "competence_override" ("stepId");
create index "competence_override_bathId_idx" on "competence_override" ("bathId");
create index "competence_override_recipeRevisionId_idx" on "competence_override" ("recipeRevisionId");
create trigger write_snapshot before insert on "competence_override" for each row
  execute function take_snapshot('person person personId', 'grantedBy person grantedById', 'askedBy person askedById');
create trigger competence_override_stands before update or delete on "competence_override"
  for each row execute function refuse_change('what was allowed outside competence');
create trigger never_emptied before truncate on "competence_override" for each statement execute function refuse_truncate();

select chain_writes_of('competence');
select chain_writes_of('competence_override');
