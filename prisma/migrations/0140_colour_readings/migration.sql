-- The colour a lot really had: one row a reading, judged when it was read. What was put right is a row of its own.

alter table "shop" add column "colourGuardFactor" double precision not null default 1;
alter table "shop" add constraint "shop_colour_guard" check ("colourGuardFactor" between 0 and 3);

create table "colour_reading" (
    "id" serial not null,
    "lotId" integer not null,
    "recipeRevisionId" integer not null,
    "colourSignOffId" integer,
    "zone" text not null default '',
    "place" text not null default '',
    "spot" jsonb,
    "grade" text not null,
    "labL" double precision,
    "labA" double precision,
    "labB" double precision,
    "spectrum" jsonb,
    "conditions" jsonb,
    "instrument" text not null default '',
    "expandedUncertainty" double precision,
    "standardRevisionId" integer,
    "agreed" jsonb,
    "judged" jsonb,
    "deltaE" double precision,
    "verdict" text,
    "fileName" text not null default '',
    "note" text not null default '',
    "readById" integer not null,
    "secondById" integer,
    "readAt" timestamptz(3) not null default current_timestamp,
    "correctsId" integer,
    "reason" text not null default '',
    "withdrawn" boolean not null default false,
    "snapshot" jsonb not null default '{}',
    constraint "colour_reading_pkey" primary key ("id")
);
create unique index "colour_reading_correctsId_key" on "colour_reading"("correctsId");
create index "colour_reading_lotId_idx" on "colour_reading"("lotId");
create index "colour_reading_recipeRevisionId_readAt_idx" on "colour_reading"("recipeRevisionId", "readAt");
create index "colour_reading_labL_idx" on "colour_reading"("labL");
create index "colour_reading_deltaE_idx" on "colour_reading"("deltaE");
create index "colour_reading_standardRevisionId_idx" on "colour_reading"("standardRevisionId");
create index "colour_reading_colourSignOffId_idx" on "colour_reading"("colourSignOffId");
alter table "colour_reading" add constraint "colour_reading_lotId_fkey" foreign key ("lotId") references "lot"("id") on delete restrict on update cascade;
alter table "colour_reading" add constraint "colour_reading_colourSignOffId_fkey" foreign key ("colourSignOffId") references "step_sign_off"("id") on delete set null on update cascade;
alter table "colour_reading" add constraint "colour_reading_standardRevisionId_fkey" foreign key ("standardRevisionId") references "colour_standard_revision"("id") on delete set null on update cascade;
alter table "colour_reading" add constraint "colour_reading_correctsId_fkey" foreign key ("correctsId") references "colour_reading"("id") on delete set null on update cascade;
alter table "colour_reading"
  add constraint "colour_reading_grade" check ("grade" in ('measured', 'compared', 'photo', 'word')),
  add constraint "colour_reading_verdict" check ("verdict" in ('pass', 'warn', 'hold')),
  add constraint "colour_reading_lower_grades_decide_nothing" check ("verdict" is null or "grade" in ('measured', 'compared')),
  add constraint "colour_reading_lab" check (
    num_nulls("labL", "labA", "labB") in (0, 3) and "labL" between 0 and 100 and abs("labA") <= 200 and abs("labB") <= 200),
  add constraint "colour_reading_measured" check (
    "grade" <> 'measured' or "withdrawn"
    or ("labL" is not null and "conditions" is not null and "instrument" <> '' and "expandedUncertainty" > 0)),
  add constraint "colour_reading_two_people" check (
    "grade" <> 'compared' or "withdrawn" or coalesce("secondById" <> "readById", false)),
  add constraint "colour_reading_correction" check (("correctsId" is null) = ("reason" = '') and ("correctsId" is not null or not "withdrawn"));

create trigger colour_reading_stands before update or delete on "colour_reading"
  for each row execute function refuse_change('a colour reading');
create trigger never_emptied before truncate on "colour_reading"
  for each statement execute function refuse_truncate();
create trigger write_snapshot before insert on "colour_reading" for each row
  execute function take_snapshot('readBy person readById', 'secondBy person secondById');

select chain_writes_of('colour_reading');
