-- A final rinse of 40 µS/cm was good to 200: the meter is now good to 0.2 µS/cm and a share of what it shows (common practice,
-- no source). A method in force is never changed: it gets a successor where the shop has not written its own.

update "analysis_method" set "status" = 'superseded'
 where "code" = 'CONDUCTIVITY' and "revision" = 1 and "status" = 'in-force'
   and not exists (select 1 from "analysis_method" where "code" = 'CONDUCTIVITY' and "revision" > 1);

insert into "analysis_method" ("code", "revision", "status", "name", "kind", "settings", "procedure", "formula", "source", "changeNote", "inForceSince")
select "code", 2, 'in-force', "name", "kind",
       jsonb_set("settings", '{uncertainty}', '{"readingMl": 0, "sampleRelative": 0, "reading": 0.00002, "readingRelative": 0.02}'),
       "procedure", "formula", "source", 'good to a share of what it shows, in a rinse as in a bath', "inForceSince"
  from "analysis_method" m
 where m."code" = 'CONDUCTIVITY' and m."revision" = 1
   and not exists (select 1 from "analysis_method" where "code" = 'CONDUCTIVITY' and "revision" > 1);
