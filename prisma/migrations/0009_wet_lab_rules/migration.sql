-- What the wet lab's record refuses, whatever the code above it does, and the methods every shop starts with.

-- Rows that only ever grow.
create trigger stock_movement_stands before update or delete on "stock_movement"
  for each row execute function refuse_change('a movement of stock');
create trigger bath_setup_stands before update or delete on "bath_setup"
  for each row execute function refuse_change('a revision of how a bath is watched');
create trigger standardisation_stands before update or delete on "standardisation"
  for each row execute function refuse_change('a standardisation');
create trigger analysis_result_stands before update or delete on "analysis_result"
  for each row execute function refuse_change('a result of an analysis');
create trigger addition_line_stands before update or delete on "addition_line"
  for each row execute function refuse_change('what was added to a bath');
create trigger chart_baseline_stands before update or delete on "chart_baseline"
  for each row execute function refuse_change('a chosen baseline');

-- The balance of a lot is reckoned here, one movement after the other, and is never below nothing. What rounding
-- leaves of an empty lot, less than a milligram, is nothing.
create function stock_balance() returns trigger language plpgsql as $$
declare before double precision;
begin
  perform 1 from "chemical_lot" where "id" = new."lotId" for update;
  select coalesce((select m."balanceKg" from "stock_movement" m where m."lotId" = new."lotId" order by m."id" desc limit 1), 0)
    into before;
  new."balanceKg" := before + new."kg";
  if abs(new."balanceKg") < 1e-6 then new."balanceKg" := 0; end if;
  if new."balanceKg" < 0 then
    raise exception 'only % kg of that lot are left', round(before::numeric, 3) using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger stock_balance before insert on "stock_movement"
  for each row execute function stock_balance();

-- An analysis stands; a second person reviews it once. Nothing is sampled from a bath after its dump.
create function analysis_stands() returns trigger language plpgsql as $$
declare review text[] := array['reviewedById', 'reviewedAt'];
begin
  if tg_op = 'DELETE' or old."reviewedAt" is not null
    or (to_jsonb(new) - review) is distinct from (to_jsonb(old) - review)
  then
    raise exception 'an analysis is kept as it was written: record a correction' using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger analysis_stands before update or delete on "analysis"
  for each row execute function analysis_stands();
create function sampled_while_in_use() returns trigger language plpgsql as $$
begin
  if exists (select 1 from "bath" b where b."id" = new."bathId" and b."dumpedAt" < new."sampledAt") then
    raise exception 'that bath was dumped: nothing can be sampled from it any more' using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger sampled_while_in_use before insert on "analysis"
  for each row execute function sampled_while_in_use();

-- A planned addition becomes done or is withdrawn, once; then it stands.
create function addition_stands() returns trigger language plpgsql as $$
declare done text[] := array['state', 'doneById', 'checkedById', 'startedAt', 'finishedAt', 'temperatureBeforeC',
  'temperatureAfterC', 'volumeBeforeL', 'volumeAfterL', 'doneReason', 'notes', 'withdrawnById', 'withdrawReason'];
begin
  if tg_op = 'DELETE' or old."state" <> 'planned'
    or (to_jsonb(new) - done) is distinct from (to_jsonb(old) - done)
  then
    raise exception 'addition % is kept as it was written', old."number" using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger addition_stands before update or delete on "addition"
  for each row execute function addition_stands();
create function added_while_in_use() returns trigger language plpgsql as $$
begin
  if new."state" = 'done' and exists (
    select 1 from "bath" b where b."id" = new."bathId" and b."dumpedAt" < new."finishedAt")
  then
    raise exception 'that bath was dumped: nothing can be added to it any more' using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger added_while_in_use before insert or update on "addition"
  for each row execute function added_while_in_use();

-- A request is closed once.
create function bath_request_closed() returns trigger language plpgsql as $$
begin
  if tg_op = 'DELETE' or old."closedAt" is not null then
    raise exception 'that request for an analysis is closed' using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger bath_request_closed before update or delete on "bath_request"
  for each row execute function bath_request_closed();

-- A method in force changes only on its way out.
create function analysis_method_frozen() returns trigger language plpgsql as $$
begin
  if old."status" <> 'draft' and (
    tg_op = 'DELETE'
    or (to_jsonb(new) - array['status', 'version']) is distinct from (to_jsonb(old) - array['status', 'version'])
    or (new."status" <> old."status" and not (old."status" = 'in-force' and new."status" = 'superseded')))
  then
    raise exception 'a method that was in force cannot be changed: make a new revision' using errcode = 'HU001';
  end if;
  return case when tg_op = 'DELETE' then old else new end;
end $$;
create trigger analysis_method_frozen before update or delete on "analysis_method"
  for each row execute function analysis_method_frozen();

-- One of a kind.
create unique index "addition_one_planned_a_bath" on "addition" ("bathId") where "state" = 'planned';
create unique index "analysis_method_one_in_force" on "analysis_method" ("code") where "status" = 'in-force';
create unique index "analysis_method_one_draft" on "analysis_method" ("code") where "status" = 'draft';

-- What a bath did since an analysis, and which bath a step was signed in, are asked for by bath and time.
create index "step_sign_off_bath_time" on "step_sign_off" ("bathId", "doneAt");
create index "bath_request_open" on "bath_request" ("bathId") where "closedAt" is null;

-- What makes no sense is not stored.
alter table "chemical"
  add constraint "chemical_form" check ("form" in ('solid', 'liquid')),
  add constraint "chemical_assay" check ("assayMassFraction" > 0 and "impurityMassFraction" >= 0 and "assayMassFraction" + "impurityMassFraction" <= 1 + 1e-9);
alter table "chemical_lot"
  add constraint "chemical_lot_status" check ("status" in ('open', 'quarantined', 'finished')),
  add constraint "chemical_lot_assay" check ("assayMassFraction" > 0 and "assayMassFraction" <= 1);
alter table "stock_movement"
  add constraint "stock_movement_kind" check ("kind" in ('receipt', 'use', 'correction', 'adjustment', 'disposal')),
  add constraint "stock_movement_balance" check ("balanceKg" >= 0);
alter table "analysis_method" add constraint "analysis_method_status" check ("status" in ('draft', 'in-force', 'superseded'));
alter table "analysis_result" add constraint "analysis_result_state" check ("state" in ('in-range', 'watch', 'stop', 'no-limits'));
alter table "addition"
  add constraint "addition_kind" check ("kind" in ('make-up', 'chemical', 'water', 'decant', 'filter', 'dye', 'electrode')),
  add constraint "addition_state" check ("state" in ('planned', 'done', 'withdrawn')),
  add constraint "addition_done" check (("state" = 'done') = ("doneById" is not null) and ("state" = 'done') = ("finishedAt" is not null)),
  add constraint "addition_checked_by_another" check ("checkedById" is null or "checkedById" <> "doneById");
alter table "addition_line" add constraint "addition_line_amount" check ("kg" >= 0 and "action" in ('decant', 'add-water', 'add-stock', 'filter', 'electrode'));
alter table "step_sign_off"
  add constraint "step_sign_off_override" check (("overrideReason" is null) = ("overrideById" is null));

insert into "number_series" ("kind", "prefix") values ('analysis', 'A-'), ('addition', 'X-');

-- Methods to start with. Principles are published (Warder 1881, Winkler 1916 for caustic; a trade journal for sulfuric
-- acid with aluminium), the formulas are their stoichiometry; uncertainties and limits of spread are common practice
-- without a source. A shop puts its own revision in force.
insert into "analysis_method" ("code", "revision", "status", "name", "kind", "settings", "procedure", "formula", "source", "inForceSince")
select m."code", 1, 'in-force', m."name", m."kind",
       '{"titrant": null, "sample": null, "solute": null, "secondReading": null, "aluminium": null, "procedure": null, "scale": null,
         "indicators": [], "uncertainty": {"readingMl": 0.03, "sampleRelative": 0.005, "reading": 0}, "replicates": 2, "spreadLimit": 0.02}'::jsonb
         || m."settings"::jsonb,
       m."procedure", m."formula", m."source", now()
  from (values
  ('CAUSTIC-2', 'Caustic and carbonate, two end points', 'caustic-two-end-points',
   '{"titrant": {"reagent": "HCl", "nominalEqPerLitre": 0.5}, "sample": {"basis": "volume", "amount": 5, "dilution": {"madeUpToMl": 250, "takenMl": 25}},
     "secondReading": "from-zero", "indicators": ["phenolphthalein", "methyl orange"]}',
   E'Let the sample cool in a closed bottle.\nPipette 5 mL (better: weigh about 7 g), make up to 250 mL with boiled water, take 25 mL.\nTitrate to colourless phenolphthalein: first reading.\nAdd methyl orange and go on to orange: second reading, counted from zero.',
   'hydroxide = C (2 V1 - V2); carbonate = C (V2 - V1); both in mmol in the flask',
   'Warder, two end points; stoichiometry. Below 3 % of carbonate use barium chloride.'),
  ('CAUSTIC-BA', 'Caustic and carbonate, barium chloride', 'caustic-barium-chloride',
   '{"titrant": {"reagent": "HCl", "nominalEqPerLitre": 0.5}, "sample": {"basis": "mass", "amount": 1.5, "dilution": null},
     "indicators": ["methyl orange", "phenolphthalein"]}',
   E'Weigh two equal portions of about 1.5 g.\nTitrate one to methyl orange: total.\nTo the other add excess neutral barium chloride, then titrate slowly to phenolphthalein without filtering: hydroxide.\nBarium is poisonous: book the flask as waste.',
   'hydroxide = C V_OH; carbonate = C (V_T - V_OH) / 2; in mmol in a portion',
   'Winkler, carbonate thrown out with barium chloride; stoichiometry'),
  ('ACID-FREE', 'Free sulfuric acid with fluoride', 'sulfuric-free-acid',
   '{"titrant": {"reagent": "NaOH", "nominalEqPerLitre": 1}, "sample": {"basis": "volume", "amount": 10, "dilution": null},
     "aluminium": "masked", "indicators": ["phenolphthalein"], "spreadLimit": 0.01}',
   E'Plastic ware: fluoride etches glass and is poisonous.\nPipette 10 mL, add 20 mL of potassium fluoride solution neutralised to phenolphthalein.\nTitrate to the first lasting pink.',
   'free H2SO4 in g/L = 49.04 N B / v', 'trade journal procedure with fluoride; stoichiometry'),
  ('ACID-AL-F', 'Free sulfuric acid and aluminium, with and without fluoride', 'sulfuric-aluminium',
   '{"titrant": {"reagent": "NaOH", "nominalEqPerLitre": 1}, "sample": {"basis": "volume", "amount": 10, "dilution": null},
     "procedure": "fluoride", "indicators": ["phenolphthalein"], "spreadLimit": 0.05}',
   E'Plastic ware: fluoride etches glass and is poisonous.\nPipette 10 mL twice.\nTitrate one as it is to phenolphthalein: A.\nTo the other add 20 mL of neutralised potassium fluoride solution, then titrate to phenolphthalein: B.',
   'free H2SO4 in g/L = 49.04 N B / v; Al in g/L = 8.994 N (A - B) / v', 'trade journal procedure (published factors 4.9 and 0.9 for 10 mL); stoichiometry'),
  ('ACID-AL-2', 'Free sulfuric acid and aluminium, two end points in one flask', 'sulfuric-aluminium',
   '{"titrant": {"reagent": "NaOH", "nominalEqPerLitre": 1}, "sample": {"basis": "volume", "amount": 5, "dilution": null},
     "procedure": "two-end-points", "indicators": ["methyl orange", "phenolphthalein"], "spreadLimit": 0.1}',
   E'Pipette 5 mL.\nTitrate to yellow methyl orange: B.\nAdd phenolphthalein and go on to pink: A, counted from zero.',
   'free H2SO4 in g/L = 49.04 N B / v; Al in g/L = 8.994 N (A - B) / v', 'trade journal procedure, coarser than with fluoride; stoichiometry'),
  ('PHOSPHATE', 'Trisodium phosphate', 'phosphate',
   '{"titrant": {"reagent": "HCl", "nominalEqPerLitre": 0.1}, "sample": {"basis": "volume", "amount": 10, "dilution": null},
     "secondReading": "from-zero", "indicators": ["thymolphthalein", "bromocresol green"]}',
   E'Pipette 10 mL.\nTitrate with acid to colourless thymolphthalein: first reading.\nAdd bromocresol green and go on to the first green: second reading, counted from zero.\nCarbonate counts as phosphate: boil it out at the acid end point where it matters.',
   'phosphate = C (V2 - V1); free hydroxide = C (2 V1 - V2), both in mmol', 'stoichiometry; the third proton has no usable end point'),
  ('PHOSPHORIC', 'Phosphoric acid', 'phosphoric',
   '{"titrant": {"reagent": "NaOH", "nominalEqPerLitre": 0.5}, "sample": {"basis": "volume", "amount": 2, "dilution": null},
     "secondReading": "from-zero", "indicators": ["methyl orange", "phenolphthalein"]}',
   E'Pipette 2 mL.\nTitrate with sodium hydroxide to methyl orange: first reading.\nAdd phenolphthalein and go on to pink: second reading, counted from zero.',
   'H3PO4 = C V1 = C V2 / 2, in mmol', 'stoichiometry'),
  ('FLOAT', 'Strength by hydrometer', 'hydrometer',
   '{"scale": "g/mL", "uncertainty": {"readingMl": 0, "sampleRelative": 0, "reading": 0.001}, "replicates": 1, "spreadLimit": 0.01}',
   E'Fill the cylinder with clear liquid and measure its temperature there.\nRead the float at eye level below the meniscus.\nSay what else is dissolved: metal and carbonate make it read high.',
   'density of the liquid at its own temperature, read back through the density table of the solute', 'density tables of the solute; 2.5e-5 per kelvin for soda glass'),
  ('PH', 'pH with glass electrode', 'ph',
   '{"uncertainty": {"readingMl": 0, "sampleRelative": 0, "reading": 0.05}, "replicates": 1, "spreadLimit": 0.1}',
   E'Check the meter with two buffers.\nRinse, dip, wait until the reading stands.', 'as read', 'common practice, no source'),
  ('CONDUCTIVITY', 'Conductivity', 'conductivity',
   '{"uncertainty": {"readingMl": 0, "sampleRelative": 0, "reading": 0.01}, "replicates": 1, "spreadLimit": 0.05}',
   E'Rinse the cell with the sample.\nRead when temperature and figure stand.', 'as read, at the temperature noted', 'common practice, no source'),
  ('TURBIDITY', 'Turbidity', 'turbidity',
   '{"uncertainty": {"readingMl": 0, "sampleRelative": 0, "reading": 0.2}, "replicates": 1, "spreadLimit": 0.2}',
   'Fill and wipe the cell; no bubbles.', 'as read', 'common practice, no source'),
  ('LOOK', 'Colour and look of the bath', 'appearance', '{"replicates": 1}',
   'Look through a clean beaker against white: colour, clouding, foam, oil, smell from a distance.', 'judged good or not good, with words', 'common practice, no source'),
  ('AS-FOUND', 'Figures entered as found', 'plain', '{"replicates": 1}',
   'Enter the figures of an outside laboratory, a test strip or a notebook, and say in the notes where they come from.', 'as entered', 'as noted in each analysis')
  ) as m ("code", "name", "kind", "settings", "procedure", "formula", "source");
