-- Impact assessments: what something wrong may have touched, lot by lot, as it was found when the assessment was opened; who judged each
-- lot and why; what was told to customers. What was found and decided stands; only owner, due date and state move, and nothing after it
-- is closed.
create table "impact_assessment" (
  "id" serial not null,
  "number" text not null,
  "about" text,
  "aboutName" text not null default '',
  "fromDay" date,
  "toDay" date,
  "causeKind" text,
  "causeId" integer,
  "reason" text not null,
  "ownerId" integer not null,
  "dueOn" date not null,
  "state" text not null default 'open',
  "openedById" integer not null,
  "openedAt" timestamptz(3) not null default current_timestamp,
  "snapshot" jsonb not null default '{}',
  constraint "impact_assessment_pkey" primary key ("id"),
  constraint "impact_assessment_state" check ("state" in ('open', 'closed')),
  constraint "impact_assessment_about" check (("about" is null) = ("aboutName" = '')),
  constraint "impact_assessment_cause" check (("causeKind" is null) = ("causeId" is null))
);
create unique index "impact_assessment_number_key" on "impact_assessment" ("number");
-- One cause is assessed once.
create unique index "impact_assessment_causeKind_causeId_key" on "impact_assessment" ("causeKind", "causeId");
create index "impact_assessment_open" on "impact_assessment" ("id") where "state" = 'open';
create index "impact_assessment_number_words" on "impact_assessment" using gin ("number" gin_trgm_ops);
create trigger write_snapshot before insert or update on "impact_assessment" for each row
  execute function take_snapshot('openedBy person openedById', 'owner person ownerId again');
create function impact_assessment_frozen() returns trigger language plpgsql as $$
declare moving text[] := array['ownerId', 'dueOn', 'state', 'snapshot'];
begin
  if tg_op = 'DELETE' or old."state" = 'closed' or to_jsonb(old) - moving <> to_jsonb(new) - moving then
    raise exception 'impact assessment % stands as it was opened, and as it was closed', old."number" using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger impact_assessment_frozen before update or delete on "impact_assessment"
  for each row execute function impact_assessment_frozen();
create trigger never_emptied before truncate on "impact_assessment" for each statement execute function refuse_truncate();

create table "assessment_lot" (
  "id" serial not null,
  "assessmentId" integer not null,
  "lotId" integer not null,
  "facts" jsonb not null,
  "ties" jsonb not null default '[]',
  "why" text not null default '',
  "addedById" integer not null,
  "addedAt" timestamptz(3) not null default current_timestamp,
  "snapshot" jsonb not null default '{}',
  constraint "assessment_lot_pkey" primary key ("id"),
  constraint "assessment_lot_assessmentId_fkey" foreign key ("assessmentId") references "impact_assessment" ("id") on delete restrict on update cascade,
  constraint "assessment_lot_lotId_fkey" foreign key ("lotId") references "lot" ("id") on delete restrict on update cascade
);
create unique index "assessment_lot_assessmentId_lotId_key" on "assessment_lot" ("assessmentId", "lotId");
create index "assessment_lot_lotId_idx" on "assessment_lot" ("lotId");
create trigger write_snapshot before insert or update on "assessment_lot" for each row
  execute function take_snapshot('addedBy person addedById');

create table "assessment_letter" (
  "id" serial not null,
  "number" text not null,
  "assessmentId" integer not null,
  "customerId" integer not null,
  "facts" jsonb not null,
  "attention" text not null default '',
  "found" text not null,
  "asked" text not null,
  "jobTitle" text not null,
  "signedById" integer not null,
  "signedAt" timestamptz(3) not null default current_timestamp,
  "snapshot" jsonb not null default '{}',
  constraint "assessment_letter_pkey" primary key ("id"),
  constraint "assessment_letter_assessmentId_fkey" foreign key ("assessmentId") references "impact_assessment" ("id") on delete restrict on update cascade,
  constraint "assessment_letter_customerId_fkey" foreign key ("customerId") references "customer" ("id") on delete restrict on update cascade
);
create unique index "assessment_letter_number_key" on "assessment_letter" ("number");
create index "assessment_letter_assessmentId_idx" on "assessment_letter" ("assessmentId");
create index "assessment_letter_customerId_idx" on "assessment_letter" ("customerId");
create index "assessment_letter_number_words" on "assessment_letter" using gin ("number" gin_trgm_ops);
create trigger write_snapshot before insert or update on "assessment_letter" for each row
  execute function take_snapshot('signedBy person signedById');

create table "assessment_entry" (
  "id" serial not null,
  "assessmentId" integer not null,
  "kind" text not null,
  "lotId" integer,
  "customerId" integer,
  "affected" boolean,
  "nonconformanceId" integer,
  "text" text not null,
  "byId" integer not null,
  "at" timestamptz(3) not null default current_timestamp,
  "snapshot" jsonb not null default '{}',
  constraint "assessment_entry_pkey" primary key ("id"),
  constraint "assessment_entry_assessmentId_fkey" foreign key ("assessmentId") references "impact_assessment" ("id") on delete restrict on update cascade,
  constraint "assessment_entry_nonconformanceId_fkey" foreign key ("nonconformanceId") references "nonconformance" ("id")
    on delete restrict on update cascade,
  constraint "assessment_entry_kind" check ("kind" in ('judgement', 'hold', 'nonconformance', 'no-letter', 'closed')),
  constraint "assessment_entry_lot" check (("kind" in ('judgement', 'hold', 'nonconformance')) = ("lotId" is not null)),
  constraint "assessment_entry_customer" check (("kind" = 'no-letter') = ("customerId" is not null)),
  constraint "assessment_entry_judgement" check (("kind" = 'judgement') = ("affected" is not null)),
  constraint "assessment_entry_nonconformance" check (("kind" = 'nonconformance') = ("nonconformanceId" is not null))
);
create index "assessment_entry_assessmentId_idx" on "assessment_entry" ("assessmentId");
create index "assessment_entry_lotId_idx" on "assessment_entry" ("lotId");
create index "assessment_entry_nonconformanceId_idx" on "assessment_entry" ("nonconformanceId");
create unique index "assessment_entry_closed_once" on "assessment_entry" ("assessmentId") where "kind" = 'closed';
create trigger write_snapshot before insert or update on "assessment_entry" for each row
  execute function take_snapshot('by person byId');

-- A row of an assessment stands, and none is added to one that is closed.
create function assessment_row_frozen() returns trigger language plpgsql as $$
begin
  if tg_op <> 'INSERT' then
    raise exception 'a row of an impact assessment stands: write another beside it' using errcode = 'HU001';
  end if;
  if exists (select from "impact_assessment" a where a."id" = new."assessmentId" and a."state" = 'closed') then
    raise exception 'impact assessment % is closed', new."assessmentId" using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger assessment_lot_frozen before insert or update or delete on "assessment_lot"
  for each row execute function assessment_row_frozen();
create trigger assessment_letter_frozen before insert or update or delete on "assessment_letter"
  for each row execute function assessment_row_frozen();
create trigger assessment_entry_frozen before insert or update or delete on "assessment_entry"
  for each row execute function assessment_row_frozen();
create trigger never_emptied before truncate on "assessment_lot" for each statement execute function refuse_truncate();
create trigger never_emptied before truncate on "assessment_letter" for each statement execute function refuse_truncate();
create trigger never_emptied before truncate on "assessment_entry" for each statement execute function refuse_truncate();

-- What the record offers to assess is found in the record; here is only what somebody said needs none.
create table "assessment_dismissal" (
  "id" serial not null,
  "causeKind" text not null,
  "causeId" integer not null,
  "title" text not null,
  "reason" text not null,
  "dismissedById" integer not null,
  "dismissedAt" timestamptz(3) not null default current_timestamp,
  "snapshot" jsonb not null default '{}',
  constraint "assessment_dismissal_pkey" primary key ("id")
);
create unique index "assessment_dismissal_causeKind_causeId_key" on "assessment_dismissal" ("causeKind", "causeId");
create trigger write_snapshot before insert or update on "assessment_dismissal" for each row
  execute function take_snapshot('dismissedBy person dismissedById');
create function assessment_dismissal_frozen() returns trigger language plpgsql as $$
begin
  raise exception 'a dismissal stands: open an impact assessment' using errcode = 'HU001';
end $$;
create trigger assessment_dismissal_frozen before update or delete on "assessment_dismissal"
  for each row execute function assessment_dismissal_frozen();
create trigger never_emptied before truncate on "assessment_dismissal" for each statement execute function refuse_truncate();

-- What happened long before assessments were kept is not offered.
create table "assessment_watch" (
  "id" integer not null default 1,
  "since" timestamptz(3) not null,
  constraint "assessment_watch_pkey" primary key ("id"),
  constraint "assessment_watch_one" check ("id" = 1)
);
insert into "assessment_watch" ("since") values (now() - interval '30 days');
-- Few results are beyond a stop limit, and Today asks for them.
create index "analysis_result_stop" on "analysis_result" ("analysisId") where "state" = 'stop';
create index "analysis_voidedAt" on "analysis" ("voidedAt") where "voidedAt" is not null;

-- Looking back finds readings at tanks by the word for their instrument.
create index "step_reading_instrument_words" on "step_reading" (lower("instrument")) where "instrument" <> '';

alter table "issued_paper" drop constraint "issued_paper_kind_check";
alter table "issued_paper" add constraint "issued_paper_kind_check"
  check ("kind" in ('quotation', 'traveler', 'certificate', 'delivery-note', 'invoice', 'credit-note', 'invoice-file', 'customer-letter'));
insert into "number_series" ("kind", "prefix") values ('impact-assessment', 'IA-'), ('customer-letter', 'CL-');

select chain_writes_of('impact_assessment');
select chain_writes_of('assessment_lot');
select chain_writes_of('assessment_letter');
select chain_writes_of('assessment_entry');
select chain_writes_of('assessment_dismissal');
