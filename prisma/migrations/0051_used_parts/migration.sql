-- A part revision that was offered, ordered or run is not edited: what is different makes its successor. Notes and
-- archiving stand on no paper; a merge of customers moves the part, and renames it where it must.

create function part_is_used(part integer) returns boolean language sql stable as $$
  select exists (select 1 from "lot" where "partId" = $1)
      or exists (select 1 from "order_line" where "partId" = $1)
      or exists (select 1 from "quotation_line" l join "quotation_revision" r on r."id" = l."revisionId"
                  where l."partId" = $1 and r."status" <> 'draft')
$$;

create function part_frozen() returns trigger language plpgsql as $$
declare free text[] := array['notes', 'archivedAt', 'successorId', 'version'];
begin
  if tg_op = 'UPDATE' then
    if new."customerId" <> old."customerId" then
      free := free || array['customerId', 'number'];
    end if;
    if (to_jsonb(new) - free) is not distinct from (to_jsonb(old) - free)
      and (old."successorId" is null or new."successorId" is not distinct from old."successorId")
    then
      return new;
    end if;
  end if;
  if part_is_used(old."id") then
    raise exception 'part % revision % was offered, ordered or run: make a new revision', old."number", old."revision"
      using errcode = 'HU001';
  end if;
  return case when tg_op = 'DELETE' then old else new end;
end $$;
create trigger part_frozen before update or delete on "part"
  for each row execute function part_frozen();
