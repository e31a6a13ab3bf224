-- Places on a part with a surface or a colour of their own: the edge and the back of a heat-treated blade. And where its colour
-- is read: at the final check, at the tank after the colour step, or at both.

alter table "part" add column "colourReadAt" text not null default 'check';
alter table "part" add constraint "part_colour_read_at" check ("colourReadAt" in ('check', 'tank', 'both'));

create table "part_zone" (
    "id" serial not null,
    "partId" integer not null,
    "position" integer not null,
    "name" text not null,
    "materialId" integer,
    "colourStandardId" integer,
    constraint "part_zone_pkey" primary key ("id")
);
create unique index "part_zone_partId_position_key" on "part_zone"("partId", "position");
create unique index "part_zone_name" on "part_zone"("partId", lower("name"));
create index "part_zone_materialId_idx" on "part_zone"("materialId");
create index "part_zone_colourStandardId_idx" on "part_zone"("colourStandardId");
alter table "part_zone" add constraint "part_zone_partId_fkey" foreign key ("partId") references "part"("id") on delete restrict on update cascade;
alter table "part_zone" add constraint "part_zone_materialId_fkey" foreign key ("materialId") references "material"("id") on delete restrict on update cascade;
alter table "part_zone" add constraint "part_zone_colourStandardId_fkey" foreign key ("colourStandardId") references "colour_standard"("id") on delete restrict on update cascade;
alter table "part_zone" add constraint "part_zone_name_said" check (btrim("name") <> '');

-- The zones of a part freeze with it.
create function part_zone_frozen() returns trigger language plpgsql as $$
declare part integer := coalesce(new."partId", old."partId");
begin
  if part_is_used(part) then
    raise exception 'a zone of a part that was offered, ordered or run: make a new revision of the part' using errcode = 'HU001';
  end if;
  return case when tg_op = 'DELETE' then old else new end;
end $$;
create trigger part_zone_frozen before insert or update or delete on "part_zone"
  for each row execute function part_zone_frozen();
create trigger never_emptied before truncate on "part_zone" for each statement execute function refuse_truncate();

create function zones_of_part(part integer) returns jsonb language sql stable as $$
  select coalesce(jsonb_agg(jsonb_build_object('name', z."name", 'agreedColour', agreed_colour(z."colourStandardId"),
           'material', case when m."id" is not null then jsonb_build_object('id', m."id", 'name', m."name",
             'condition', m."condition", 'baseMetal', m."baseMetal") end) order by z."position"), '[]'::jsonb)
    from "part_zone" z left join "material" m on m."id" = z."materialId" where z."partId" = $1
$$;

-- The zones in the snapshot of a part; some snapshots leave out what is null.
create function zones_of_snapshot(part jsonb) returns jsonb language sql immutable as $$
  select coalesce(jsonb_agg(jsonb_build_object('name', z -> 'name', 'material', z -> 'material',
           'agreedColour', whole_agreed_colour(z -> 'agreedColour')) order by place), '[]'::jsonb)
    from jsonb_array_elements(coalesce(part -> 'zones', '[]'::jsonb)) with ordinality x (z, place)
$$;

-- A part is issued with its zones.
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
                  'agreedColour', agreed_colour(x."colourStandardId"),
                  'zones', zones_of_part(x."id"),
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
    when 'fill' then (
      select jsonb_build_object('id', x."id", 'number', x."number", 'tankId', x."tankId", 'tankCode', t."code")
        from "bath" x join "tank" t on t."id" = x."tankId" where x."id" = $2)
    when 'material' then (
      select jsonb_build_object('id', x."id", 'name', x."name", 'condition', x."condition", 'baseMetal', x."baseMetal")
        from "material" x where x."id" = $2)
    when 'chemicalLot' then (
      select jsonb_build_object('id', c."id", 'code', c."code", 'name', c."name", 'solute', c."solute", 'hazards', c."hazards",
               'supplierLot', x."supplierLot", 'expiresOn', x."expiresOn"::text, 'assayMassFraction', x."assayMassFraction")
        from "chemical_lot" x join "chemical" c on c."id" = x."chemicalId" where x."id" = $2)
    when 'titrant' then (
      select jsonb_build_object('id', t."id", 'label', t."label", 'reagent', t."reagent")
        from "standardisation" x join "titrant_lot" t on t."id" = x."titrantId" where x."id" = $2)
    when 'instrument' then (
      select jsonb_build_object('id', x."id", 'code', x."code", 'calibrationDueOn', x."calibrationDueOn"::text)
        from "instrument" x where x."id" = $2)
  end
$$;
