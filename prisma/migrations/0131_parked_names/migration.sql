-- A signature that waited for quality's decision goes under the name its person had when it was given, not when it was
-- accepted: taken from the parked sign-off after the snapshot of the day.
create function take_parked_name() returns trigger language plpgsql as $$
declare
  person jsonb;
begin
  select k."snapshot" -> 'person' into person from "parked_sign_off" k
   where k."lotId" = new."lotId" and k."personId" = new."personId" and k."doneAt" = new."doneAt" and k."decision" is null
   order by k."id" desc limit 1;
  if person is not null then
    new."snapshot" := jsonb_set(new."snapshot", '{person}', person);
  end if;
  return new;
end $$;
create trigger write_snapshot_parked before insert on "step_sign_off" for each row execute function take_parked_name();
