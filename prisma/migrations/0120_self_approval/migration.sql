-- A shop with one person who may approve has no second one. It may allow that an author approves, by name and on record;
-- without that setting, and of everybody else, no approval by whoever wrote is stored.
alter table "shop" add column "selfApproval" boolean not null default false;
alter table "recipe_revision" add column "selfApproved" boolean not null default false;
alter table "coupon_series" add column "selfApproved" boolean not null default false;

alter table "recipe_revision"
  drop constraint "recipe_revision_second_person",
  drop constraint "recipe_revision_no_writer_approves",
  add constraint "recipe_revision_second_person" check (
    coalesce("approvedById" = "authorId" or "approvedById" = any ("writerIds"), false) = "selfApproved");
alter table "coupon_series"
  drop constraint "coupon_series_second_person",
  add constraint "coupon_series_second_person" check (
    coalesce("approvedById" = "authorId" or "approvedById" = any ("writerIds"), false) = "selfApproved");

create function self_approval_allowed() returns trigger language plpgsql as $$
begin
  if new."selfApproved" and not old."selfApproved" and not (select "selfApproval" from "shop" where "id" = 1) then
    raise exception 'the shop does not allow approval by the author' using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger self_approval_allowed before update of "selfApproved" on "recipe_revision"
  for each row execute function self_approval_allowed();
create trigger self_approval_allowed before update of "selfApproved" on "coupon_series"
  for each row execute function self_approval_allowed();
