-- A step signed on an earlier revision of the same traveler counts on the next: it points back to its sign-off.
alter table "traveler_step" add column "carriedSignOffId" integer;
alter table "traveler_step" add constraint "traveler_step_carriedSignOffId_fkey"
  foreign key ("carriedSignOffId") references "step_sign_off"("id") on delete set null on update cascade;
create index "traveler_step_carriedSignOffId_idx" on "traveler_step"("carriedSignOffId");

create or replace function sign_only_current() returns trigger language plpgsql as $$
declare state text; carried integer;
begin
  select t."status", s."carriedSignOffId" into state, carried
    from "traveler_step" s join "traveler" t on t."id" = s."travelerId"
   where s."id" = new."stepId"
     for share of t;
  if state is distinct from 'issued' then
    raise exception 'this traveler is %: only the current revision is signed', coalesce(state, 'unknown')
      using errcode = 'HU002';
  end if;
  if carried is not null then
    raise exception 'this step was signed on an earlier revision' using errcode = 'HU002';
  end if;
  if new."bathId" is not null and exists (
    select 1 from "bath" b where b."id" = new."bathId" and b."dumpedAt" is not null and b."dumpedAt" <= new."doneAt"
  ) then
    raise exception 'that bath was dumped: it cannot be used any more' using errcode = 'HU001';
  end if;
  return new;
end $$;
