-- A paper is kept as it was issued: reprinted, it is the same bytes. In the units of the customer, or of the shop.

alter table "shop" add column "units" text not null default 'metric' check ("units" in ('metric', 'us'));
alter table "customer" add column "units" text not null default 'shop' check ("units" in ('shop', 'metric', 'us'));

create table "issued_paper" (
  "id" serial primary key,
  "kind" text not null check ("kind" in ('quotation', 'traveler')),
  "recordId" integer not null,
  "issue" integer not null check ("issue" >= 1),
  "title" text not null,
  "fileName" text not null,
  "units" text not null check ("units" in ('metric', 'us')),
  "shownSha256" bytea not null,
  "sha256" bytea not null,
  "bytes" bytea not null,
  "issuedById" integer not null,
  "issuedAt" timestamptz(3) not null,
  "madeAt" timestamptz(3) not null default now(),
  "snapshot" jsonb not null default '{}',
  constraint "issued_paper_digest" check ("sha256" = sha256("bytes")),
  unique ("kind", "recordId", "issue")
);
-- A PDF is compressed already.
alter table "issued_paper" alter column "bytes" set storage external;

create trigger issued_paper_stands before update or delete on "issued_paper"
  for each row execute function refuse_change();
create trigger never_emptied before truncate on "issued_paper"
  for each statement execute function refuse_truncate();

create or replace function snapshot_of(kind text, id integer) returns jsonb language sql stable as $$
  select case kind
    when 'person' then (select to_jsonb(x."displayName") from "person" x where x."id" = $2)
    when 'shop' then (
      select jsonb_build_object('name', x."name", 'address', x."address", 'contact', x."contact", 'timeZone', x."timeZone",
               'units', x."units")
        from "shop" x)
    when 'customer' then (
      select jsonb_build_object('id', x."id", 'number', x."number", 'name', x."name",
               'units', case x."units" when 'shop' then s."units" else x."units" end,
               'address', coalesce((select a."lines" from "customer_address" a where a."customerId" = x."id"
                                     order by a."kind" <> 'billing', a."position" limit 1), ''))
        from "customer" x cross join "shop" s where x."id" = $2)
    when 'part' then (
      select to_jsonb(x) - array['geometry', 'notes', 'customerId', 'materialId', 'areaFoundById', 'successorId', 'archivedAt', 'createdAt', 'version']
             || jsonb_build_object(
                  'areaFoundAt', to_char(x."areaFoundAt" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"'),
                  'areaFoundBy', snapshot_of('person', x."areaFoundById"),
                  'material', jsonb_build_object('id', m."id", 'name', m."name", 'condition', m."condition", 'baseMetal', m."baseMetal"))
        from "part" x join "material" m on m."id" = x."materialId" where x."id" = $2)
    when 'recipe' then (
      select jsonb_build_object('recipeId', re."id", 'revisionId', x."id", 'number', re."number", 'name', re."name",
               'revision', x."revision", 'colour', re."colour")
        from "recipe_revision" x join "recipe" re on re."id" = x."recipeId" where x."id" = $2)
    when 'rack' then (
      select jsonb_build_object('id', x."id", 'code', x."code", 'name', x."name") from "rack" x where x."id" = $2)
    when 'supply' then (
      select jsonb_build_object('id', x."id", 'code', x."code", 'name', x."name") from "power_supply" x where x."id" = $2)
    when 'tank' then (
      select jsonb_build_object('id', x."id", 'code', x."code", 'name', x."name") from "tank" x where x."id" = $2)
    when 'bath' then (
      select jsonb_build_object('id', x."id", 'number', x."number") from "bath" x where x."id" = $2)
  end
$$;

-- There is one shop, whatever the number: a traveler keeps the one that issued it.
drop trigger write_snapshot on "traveler";
create trigger write_snapshot before insert on "traveler" for each row
  execute function take_snapshot('issuedBy person issuedById', 'shop shop id');
create trigger write_snapshot before insert on "issued_paper" for each row
  execute function take_snapshot('issuedBy person issuedById');

select chain_writes_of('issued_paper');
