-- A second factor: passkeys, a time-based code from an app, and recovery codes for when both are lost.
alter table "shop" add column "secondFactorRoles" text[] default '{}';
alter table "shop" add constraint "shop_second_factor_roles"
  check ("secondFactorRoles" <@ array['estimator', 'planner', 'operator', 'lab', 'quality', 'owner']);

create table "passkey" (
  "id" serial primary key,
  "personId" integer not null references "person" ("id") on delete cascade on update cascade,
  "credentialId" text not null,
  "publicKey" bytea not null,
  "counter" bigint not null,
  "transports" text[],
  "name" text not null,
  "createdAt" timestamptz(3) not null default now(),
  "lastUsedAt" timestamptz(3)
);
create unique index "passkey_credentialId_key" on "passkey" ("credentialId");
create index "passkey_personId_idx" on "passkey" ("personId");

create table "authenticator_app" (
  "personId" integer not null primary key references "person" ("id") on delete cascade on update cascade,
  "secret" text not null,
  "createdAt" timestamptz(3) not null default now(),
  "confirmedAt" timestamptz(3),
  "lastStep" integer
);

create table "recovery_code" (
  "id" serial primary key,
  "personId" integer not null references "person" ("id") on delete cascade on update cascade,
  "codeHash" bytea not null,
  "usedAt" timestamptz(3)
);
create index "recovery_code_personId_idx" on "recovery_code" ("personId");

-- What is under way between two requests: a sign-in that waits for its second factor, a passkey being added.
create table "sign_in_step" (
  "tokenHash" bytea not null primary key,
  "personId" integer references "person" ("id") on delete cascade on update cascade,
  "challenge" text,
  "expiresAt" timestamptz(3) not null
);
create index "sign_in_step_personId_idx" on "sign_in_step" ("personId");
