-- Nobody approves what they had a hand in: everybody who wrote in a draft is kept, and none of them may approve it.
alter table "recipe_revision" add column "writerIds" integer[] default array[]::integer[];
alter table "recipe_revision" add constraint "recipe_revision_no_writer_approves"
  check ("approvedById" is null or not ("approvedById" = any ("writerIds")));

-- A revision was approved for these metals: they and the family stay with the recipe from then on.
create function recipe_head_frozen() returns trigger language plpgsql as $$
begin
  if (new."family", new."baseMetals") is distinct from (old."family", old."baseMetals") and exists (
    select 1 from "recipe_revision" r where r."recipeId" = old."id" and r."status" <> 'draft'
  ) then
    raise exception 'a revision of recipe % was approved for its metals: start a new recipe for others', old."number"
      using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger recipe_head_frozen before update on "recipe"
  for each row execute function recipe_head_frozen();

-- Numbers that were given are never given again.
create function number_series_rises() returns trigger language plpgsql as $$
begin
  if new."next" < old."next" then
    raise exception 'the next number of a series may only rise' using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger number_series_rises before update on "number_series"
  for each row execute function number_series_rises();
