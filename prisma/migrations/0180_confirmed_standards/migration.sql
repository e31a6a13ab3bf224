-- What was taken over from the free text of parts counts as approved with nobody's name. A person confirms it, on what grounds;
-- until then nothing is promised by it, and what is judged by it says so. Records that were issued before stay as they are.
create table "colour_standard_confirmation" (
    "id" serial not null,
    "revisionId" integer not null,
    "grounds" text not null,
    "personId" integer not null,
    "at" timestamptz(3) not null default current_timestamp,
    "snapshot" jsonb not null default '{}',
    constraint "colour_standard_confirmation_pkey" primary key ("id"),
    constraint "colour_standard_confirmation_grounds" check (btrim("grounds") <> '')
);
create unique index "colour_standard_confirmation_revisionId_key" on "colour_standard_confirmation"("revisionId");
alter table "colour_standard_confirmation" add constraint "colour_standard_confirmation_revisionId_fkey" foreign key ("revisionId")
  references "colour_standard_revision"("id") on delete restrict on update cascade;
create trigger write_snapshot before insert on "colour_standard_confirmation" for each row execute function take_snapshot('by person personId');
create trigger colour_standard_confirmation_stands before update or delete on "colour_standard_confirmation"
  for each row execute function refuse_change('the confirmation of a colour standard');
create trigger never_emptied before truncate on "colour_standard_confirmation" for each statement execute function refuse_truncate();
select chain_writes_of('colour_standard_confirmation');

-- Whether a revision was taken over and nobody had confirmed it at that instant.
create function colour_unconfirmed(revision integer, at timestamptz) returns boolean language sql stable as $$
  select coalesce((
    select r."takenOverFrom" <> '' and not exists (
             select 1 from "colour_standard_confirmation" c where c."revisionId" = r."id" and c."at" <= $2)
      from "colour_standard_revision" r where r."id" = $1), false)
$$;

create or replace function agreed_colour(r "colour_standard_revision") returns jsonb language sql stable as $$
  select jsonb_build_object(
    'standardId', s."id", 'revisionId', r."id", 'code', s."code", 'revision', r."revision", 'status', r."status",
    'name', r."name", 'basis', case when r."target" is null then case when r."sample" is null then 'words' else 'sample' end
                                    when r."sample" is null then 'lab' else 'lab-and-sample' end,
    'target', r."target", 'light', r."light", 'dark', r."dark", 'conditions', r."conditions", 'instrument', r."instrument",
    'tolerance', r."tolerance", 'sample', r."sample", 'grade', r."grade", 'agreedBy', r."agreedBy",
    'agreedOn', r."agreedOn"::text, 'expiresOn', r."expiresOn"::text,
    'unconfirmed', colour_unconfirmed(r."id", 'infinity'))
    from "colour_standard" s where s."id" = r."standardId"
$$;
-- What was issued before says nothing of it.
create or replace function whole_agreed_colour(colour jsonb) returns jsonb language sql immutable as $$
  select case when colour <> 'null' then '{"standardId": null, "revisionId": null, "revision": null, "status": null, "target": null,
    "light": null, "dark": null, "conditions": null, "tolerance": null, "sample": null, "agreedOn": null, "expiresOn": null,
    "unconfirmed": false}'::jsonb || colour end
$$;
create or replace function colour_before_standards(kind text, sample text, target jsonb, tolerance jsonb) returns jsonb
  language sql immutable as $$
  select case when kind in ('sample', 'lab') then jsonb_build_object(
    'standardId', null, 'revisionId', null, 'code', '', 'revision', null, 'status', null,
    'name', case kind when 'sample' then sample else 'Target in figures' end,
    'basis', kind, 'target', case kind when 'lab' then target end, 'light', null, 'dark', null,
    'conditions', case kind when 'lab' then '{"geometry": "unstated", "illuminant": "D65", "observerDeg": 2}'::jsonb end,
    'instrument', '',
    'tolerance', case kind when 'lab' then jsonb_build_object('from', 'target', 'deltaE', tolerance, 'kL', 1, 'kC', 1, 'kH', 1) end,
    'sample', case kind when 'sample' then jsonb_build_object('name', sample, 'keptAt', '') end,
    'grade', case kind when 'sample' then 'compared' else 'measured' end,
    'agreedBy', '', 'agreedOn', null, 'expiresOn', null, 'unconfirmed', false) end
$$;
