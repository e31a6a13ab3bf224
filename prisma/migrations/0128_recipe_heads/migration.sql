-- Name, colour and notes of a recipe may change after a revision is approved; the revision goes on showing those it was
-- approved with.

create function take_recipe_head() returns trigger language plpgsql as $$
begin
  if new."approvedAt" is not null and not new."snapshot" ? 'recipe' then
    new."snapshot" := new."snapshot" || jsonb_build_object('recipe', (
      select jsonb_build_object('name', r."name", 'colour', r."colour", 'notes', r."notes")
        from "recipe" r where r."id" = new."recipeId"));
  end if;
  return new;
end $$;

alter table "recipe_revision" disable trigger user;
update "recipe_revision" x set "snapshot" = x."snapshot" || jsonb_build_object('recipe',
    jsonb_build_object('name', r."name", 'colour', r."colour", 'notes', r."notes"))
  from "recipe" r where r."id" = x."recipeId" and x."approvedAt" is not null;
alter table "recipe_revision" enable trigger user;

-- After `write_snapshot`, in whose hands the snapshot is until then: triggers run by their names.
create trigger write_snapshot_recipe before insert or update on "recipe_revision" for each row execute function take_recipe_head();
