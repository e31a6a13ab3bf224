-- What was asked before an addition was planned or booked stays with it, beside the reason that answered it.

alter table "addition"
  add column "planQuestions" text[] default '{}',
  add column "doneQuestions" text[] default '{}';

create or replace function addition_stands() returns trigger language plpgsql as $$
declare done text[] := array['state', 'doneById', 'checkedById', 'startedAt', 'finishedAt', 'temperatureBeforeC',
  'temperatureAfterC', 'volumeBeforeL', 'volumeAfterL', 'doneReason', 'doneQuestions', 'notes', 'withdrawnById', 'withdrawReason'];
begin
  if tg_op = 'DELETE' or old."state" <> 'planned'
    or (to_jsonb(new) - done) is distinct from (to_jsonb(old) - done)
  then
    raise exception 'addition % is kept as it was written', old."number" using errcode = 'HU001';
  end if;
  return new;
end $$;
