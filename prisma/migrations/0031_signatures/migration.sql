-- When the person of a sign-in last gave a credential to sign something with, and which.
alter table "sign_in"
  add column "provedAt" timestamptz(3),
  add column "provedWith" text,
  add constraint "sign_in_proved_with" check ("provedWith" in ('password', 'pin', 'passkey'));
