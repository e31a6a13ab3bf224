-- A file that became part of a record is as frozen as the record.
create function file_frozen() returns trigger language plpgsql as $$
begin
  if old."attachedAt" is not null then
    raise exception 'file % is part of a record: it is kept as it was sent', old."id" using errcode = 'HU001';
  end if;
  return case when tg_op = 'DELETE' then old else new end;
end $$;
create trigger file_frozen before update or delete on "file"
  for each row execute function file_frozen();

create function file_chunk_frozen() returns trigger language plpgsql as $$
begin
  if exists (
    select 1 from "file" f
     where f."id" in (case when tg_op <> 'INSERT' then old."fileId" end, case when tg_op <> 'DELETE' then new."fileId" end)
       and f."attachedAt" is not null
  ) then
    raise exception 'the content of a file that is part of a record is kept as it was sent' using errcode = 'HU001';
  end if;
  return case when tg_op = 'DELETE' then old else new end;
end $$;
create trigger file_chunk_frozen before insert or update or delete on "file_chunk"
  for each row execute function file_chunk_frozen();

-- What is frozen row by row cannot be emptied at one stroke either.
create function refuse_truncate() returns trigger language plpgsql as $$
begin
  raise exception 'the table % keeps what was written: it cannot be emptied', tg_table_name using errcode = 'HU001';
end $$;

drop trigger audit_entry_never_emptied on "audit_entry";
do $$
declare frozen regclass;
begin
  for frozen in
    select distinct t.tgrelid::regclass from pg_trigger t join pg_class c on c.oid = t.tgrelid
     where not t.tgisinternal and c.relnamespace = current_schema()::regnamespace
       and t.tgtype & 1 = 1 and t.tgtype & (8 | 16) > 0 -- for each row, on delete or update
  loop
    execute format(
      'create trigger never_emptied before truncate on %s for each statement execute function refuse_truncate()', frozen);
  end loop;
end $$;
