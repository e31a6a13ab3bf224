-- Nobody smells at a bath. A method in force is never changed: it gets a successor where the shop has not written its own.

update "analysis_method" set "status" = 'superseded'
 where "code" = 'LOOK' and "revision" = 1 and "status" = 'in-force'
   and not exists (select 1 from "analysis_method" where "code" = 'LOOK' and "revision" > 1);

insert into "analysis_method" ("code", "revision", "status", "name", "kind", "settings", "procedure", "formula", "source", "changeNote", "inForceSince")
select "code", 2, 'in-force', "name", "kind", "settings",
       'Look through a clean beaker against white: colour, clouding, foam, oil. Never smell at it.',
       "formula", "source", 'nobody smells at a bath', "inForceSince"
  from "analysis_method" m
 where m."code" = 'LOOK' and m."revision" = 1
   and not exists (select 1 from "analysis_method" where "code" = 'LOOK' and "revision" > 1);
