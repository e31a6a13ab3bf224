-- An analysis that was made of the wrong bath, or imported wrongly, is voided with a reason: it stays on record and counts
-- for nothing.

alter table "analysis"
  add column "voidedAt" timestamptz(3),
  add column "voidedById" integer,
  add column "voidReason" text;
alter table "analysis" add constraint "analysis_voided" check (
  ("voidedAt" is null) = ("voidedById" is null) and ("voidedAt" is null) = ("voidReason" is null));
-- Charts leave out the few that are voided.
create index "analysis_voided" on "analysis" ("id") where "voidedAt" is not null;

-- An analysis stands; a second person reviews it once, and somebody voids it once.
create or replace function analysis_stands() returns trigger language plpgsql as $$
declare
  review text[] := array['reviewedById', 'reviewedAt'];
  void text[] := array['voidedById', 'voidedAt', 'voidReason'];
begin
  if tg_op = 'DELETE'
    or (to_jsonb(new) - review - void) is distinct from (to_jsonb(old) - review - void)
    or (old."reviewedAt" is not null and (new."reviewedAt", new."reviewedById") is distinct from (old."reviewedAt", old."reviewedById"))
    or (old."voidedAt" is not null and to_jsonb(new) is distinct from to_jsonb(old))
  then
    raise exception 'an analysis is kept as it was written: record a correction or void it' using errcode = 'HU001';
  end if;
  return new;
end $$;
