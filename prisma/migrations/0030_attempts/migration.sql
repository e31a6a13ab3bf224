-- Guesses are counted before they are evaluated, one row for whatever has a limit of its own.
drop table "sign_in_failure";

create table "attempt_window" (
  "key" text not null primary key,
  "endsAt" timestamptz(3) not null,
  "count" integer not null,
  "allowed" integer not null
);
create index "attempt_window_endsAt_idx" on "attempt_window" ("endsAt");

-- A browser that somebody signed in with before; a stranger who guesses cannot lock it out.
create table "known_device" (
  "tokenHash" bytea not null,
  "personId" integer not null references "person" ("id") on delete cascade on update cascade,
  "lastUsedAt" timestamptz(3) not null default now(),
  primary key ("tokenHash", "personId")
);
create index "known_device_personId_idx" on "known_device" ("personId");

-- Looked up by every sign-in, and swept by when they ended.
create index "sign_in_lastSeenAt_idx" on "sign_in" ("lastSeenAt");
