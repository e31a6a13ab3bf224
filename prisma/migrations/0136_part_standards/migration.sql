-- What a part said about its colour moves into a standard of its customer, one for each that differs, and the part points to
-- it. Those were in use and nobody approved them here: each says which parts it was taken over from.

create temporary table "moved_colour" as
  select p."customerId", p."colourKind", p."colourSample", p."colourL", p."colourA", p."colourB", p."toleranceDeltaE",
         'PART-' || min(p."id") as "code", (array_agg(p."number" order by p."id"))[1] as "number",
         string_agg(p."number" || ' rev ' || p."revision", ', ' order by p."id") as "parts", array_agg(p."id") as "partIds"
    from "part" p where p."colourKind" <> 'none' and p."colourStandardId" is null
   group by 1, 2, 3, 4, 5, 6, 7;

insert into "colour_standard" ("code", "customerId") select "code", "customerId" from "moved_colour" order by "code";

insert into "colour_standard_revision" ("standardId", "revision", "status", "name", "target", "conditions", "tolerance", "sample", "grade",
       "notes", "takenOverFrom", "approvedAt")
  select s."id", 1, 'approved',
         case m."colourKind" when 'sample' then left(m."colourSample", 100) else left('Colour of ' || m."number", 100) end,
         case m."colourKind" when 'lab' then jsonb_build_object('L', m."colourL", 'a', m."colourA", 'b', m."colourB") end,
         case m."colourKind" when 'lab' then '{"geometry": "unstated", "illuminant": "D65", "observerDeg": 2}'::jsonb end,
         case m."colourKind" when 'lab' then jsonb_build_object('from', 'target', 'deltaE', m."toleranceDeltaE", 'kL', 1, 'kC', 1, 'kH', 1) end,
         case m."colourKind" when 'sample' then jsonb_build_object('name', m."colourSample", 'keptAt', '') end,
         case m."colourKind" when 'sample' then 'compared' else 'measured' end,
         'As the part said it: who agreed, when, and with which instrument was not recorded.', m."parts", now()
    from "moved_colour" m join "colour_standard" s on s."code" = m."code" order by s."id";

alter table "part" disable trigger user;
update "part" p set "colourStandardId" = s."id"
  from "moved_colour" m join "colour_standard" s on s."code" = m."code" where p."id" = any (m."partIds");
alter table "part" enable trigger user;
drop table "moved_colour";

alter table "part" drop column "colourKind", drop column "colourSample", drop column "colourL", drop column "colourA",
  drop column "colourB", drop column "toleranceDeltaE";

-- What was issued before shows its colour in the same shape, as the part said it.
create function colour_before_standards(kind text, sample text, target jsonb, tolerance jsonb) returns jsonb
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
    'agreedBy', '', 'agreedOn', null, 'expiresOn', null) end
$$;
-- Some snapshots leave out what is null.
create function whole_agreed_colour(colour jsonb) returns jsonb language sql immutable as $$
  select case when colour <> 'null' then '{"standardId": null, "revisionId": null, "revision": null, "status": null, "target": null,
    "light": null, "dark": null, "conditions": null, "tolerance": null, "sample": null, "agreedOn": null, "expiresOn": null}'::jsonb || colour end
$$;
-- The colour in the snapshot of a part, and at the head of a traveler.
create function agreed_colour_of_part(part jsonb) returns jsonb language sql immutable as $$
  select case when part ? 'agreedColour' then whole_agreed_colour(part -> 'agreedColour')
    else colour_before_standards(part ->> 'colourKind', part ->> 'colourSample',
      jsonb_build_object('L', part -> 'colourL', 'a', part -> 'colourA', 'b', part -> 'colourB'), part -> 'toleranceDeltaE') end
$$;
create function agreed_colour_of_head(head jsonb) returns jsonb language sql immutable as $$
  select case when head ? 'agreedColour' then whole_agreed_colour(head -> 'agreedColour')
    else colour_before_standards(head -> 'colour' ->> 'kind', head -> 'colour' ->> 'sample', head -> 'colour' -> 'lab',
      head -> 'colour' -> 'toleranceDeltaE') end
$$;

-- A part is issued with the revision of its standard that was in force.
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
