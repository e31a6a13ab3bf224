-- What is known of a signed step besides its readings; In and Out of a tank; drafts; a proved override; sign-offs that
-- were made while the network was down and that the record could not take.

alter table "step_sign_off"
  add column "clockDifferenceS" integer not null default 0,
  add column "countDifference" integer not null default 0,
  add column "countReason" text not null default '',
  add column "tookS" integer,
  add column "shortTimeReason" text not null default '';
alter table "step_sign_off" drop constraint "step_sign_off_counts";
alter table "step_sign_off"
  add constraint "step_sign_off_counts" check (
    "countIn" >= 0 and "countOut" >= 0 and "rejectCount" >= 0 and "countOut" + "rejectCount" = "countIn" + "countDifference"),
  -- Steps that were signed before a reason was asked for stand as they are.
  add constraint "step_sign_off_count_reason" check (
    ("rejectCount" = 0 and "countDifference" = 0) or length(trim("countReason")) > 0) not valid;

-- When the load of a step went in and came out, by the clock of the server. Set back, a stamp stays as a row.
create table "step_run" (
    "id" serial not null,
    "stepId" integer not null,
    "inAt" timestamptz(3) not null,
    "inById" integer not null,
    "outAt" timestamptz(3),
    "outById" integer,
    "setBackAt" timestamptz(3),
    "setBackById" integer,

    constraint "step_run_pkey" primary key ("id")
);
create index "step_run_stepId_idx" on "step_run"("stepId");
create unique index "step_run_one_a_step" on "step_run" ("stepId") where "setBackAt" is null;
alter table "step_run" add constraint "step_run_stepId_fkey" foreign key ("stepId") references "traveler_step"("id") on delete restrict on update cascade;
alter table "step_run"
  add constraint "step_run_out" check (("outAt" is null) = ("outById" is null) and ("outAt" is null or "outAt" >= "inAt")),
  add constraint "step_run_set_back" check (("setBackAt" is null) = ("setBackById" is null));
create function step_run_stands() returns trigger language plpgsql as $$
declare later text[] := array['outAt', 'outById', 'setBackAt', 'setBackById'];
begin
  if tg_op = 'DELETE' or old."setBackAt" is not null
    or (old."outAt" is not null and (new."outAt", new."outById") is distinct from (old."outAt", old."outById"))
    or (to_jsonb(new) - later) is distinct from (to_jsonb(old) - later)
  then
    raise exception 'In and Out of a step are kept as they were stamped' using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger step_run_stands before update or delete on "step_run"
  for each row execute function step_run_stands();

-- What somebody typed at a step and has not signed yet.
create table "step_draft" (
    "stepId" integer not null,
    "personId" integer not null,
    "body" jsonb not null,
    "keptAt" timestamptz(3) not null default now(),

    constraint "step_draft_pkey" primary key ("stepId", "personId")
);
alter table "step_draft" add constraint "step_draft_stepId_fkey" foreign key ("stepId") references "traveler_step"("id") on delete restrict on update cascade;

-- Somebody's proved word that one step may run in a bath as it stands. Good for that step, bath and state, once.
create table "step_override" (
    "id" serial not null,
    "stepId" integer not null,
    "bathId" integer not null,
    "bathState" text not null,
    "reason" text not null,
    "grantedById" integer not null,
    "askedById" integer not null,
    "grantedAt" timestamptz(3) not null default now(),
    "expiresAt" timestamptz(3) not null,
    "signOffId" integer,

    constraint "step_override_pkey" primary key ("id")
);
create index "step_override_stepId_idx" on "step_override"("stepId");
create unique index "step_override_signOffId_key" on "step_override"("signOffId");
alter table "step_override" add constraint "step_override_stepId_fkey" foreign key ("stepId") references "traveler_step"("id") on delete restrict on update cascade;
alter table "step_override" add constraint "step_override_bathId_fkey" foreign key ("bathId") references "bath"("id") on delete restrict on update cascade;
alter table "step_override" add constraint "step_override_signOffId_fkey" foreign key ("signOffId") references "step_sign_off"("id") on delete set null on update cascade;
create function step_override_stands() returns trigger language plpgsql as $$
begin
  if tg_op = 'DELETE' or old."signOffId" is not null
    or (to_jsonb(new) - 'signOffId') is distinct from (to_jsonb(old) - 'signOffId')
  then
    raise exception 'an override is used once and kept as it was given' using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger step_override_stands before update or delete on "step_override"
  for each row execute function step_override_stands();

-- A sign-off from a tablet without network that was refused when it arrived: its facts wait for quality.
create table "parked_sign_off" (
    "id" serial not null,
    "stepId" integer not null,
    "lotId" integer not null,
    "personId" integer not null,
    "body" jsonb not null,
    "doneAt" timestamptz(3) not null,
    "clockDifferenceS" integer not null,
    "code" text not null,
    "refusal" text not null,
    "parkedAt" timestamptz(3) not null default now(),
    "decision" text,
    "decidedById" integer,
    "decidedAt" timestamptz(3),
    "decisionReason" text,
    "signOffId" integer,

    constraint "parked_sign_off_pkey" primary key ("id")
);
create index "parked_sign_off_stepId_idx" on "parked_sign_off"("stepId");
create index "parked_sign_off_lotId_idx" on "parked_sign_off"("lotId");
create index "parked_sign_off_open" on "parked_sign_off" ("id") where "decision" is null;
create unique index "parked_sign_off_signOffId_key" on "parked_sign_off"("signOffId");
alter table "parked_sign_off" add constraint "parked_sign_off_stepId_fkey" foreign key ("stepId") references "traveler_step"("id") on delete restrict on update cascade;
alter table "parked_sign_off" add constraint "parked_sign_off_lotId_fkey" foreign key ("lotId") references "lot"("id") on delete restrict on update cascade;
alter table "parked_sign_off" add constraint "parked_sign_off_signOffId_fkey" foreign key ("signOffId") references "step_sign_off"("id") on delete set null on update cascade;
alter table "parked_sign_off"
  add constraint "parked_sign_off_decision" check ("decision" in ('accepted', 'set-aside')),
  add constraint "parked_sign_off_decided" check (
    ("decision" is null) = ("decidedById" is null) and ("decision" is null) = ("decidedAt" is null)
    and ("decision" is null) = ("decisionReason" is null)
    and (("decision" is not distinct from 'accepted') = ("signOffId" is not null)));
create function parked_sign_off_stands() returns trigger language plpgsql as $$
declare fate text[] := array['decision', 'decidedById', 'decidedAt', 'decisionReason', 'signOffId'];
begin
  if tg_op = 'DELETE' or old."decision" is not null
    or (to_jsonb(new) - fate) is distinct from (to_jsonb(old) - fate)
  then
    raise exception 'a parked sign-off is decided once and never removed' using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger parked_sign_off_stands before update or delete on "parked_sign_off"
  for each row execute function parked_sign_off_stands();
