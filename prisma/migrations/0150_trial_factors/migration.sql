-- What a coupon was made under depends on the kind of bath: a dye has no voltage, and takes the coating and its pH. How its
-- colour is known and whether it protects are said of each coupon. Coupons that were entered before say neither: nothing of
-- them is rewritten.
alter table "coupon_trial"
  alter column "voltageV" drop not null,
  add column "coatingThicknessUm" double precision,
  add column "pH" double precision,
  add column "currentDensityAPerM2" double precision,
  add column "protects" boolean,
  add column "grade" text;

alter table "coupon_trial"
  drop constraint "coupon_trial_outcome",
  add constraint "coupon_trial_outcome" check ("outcome" in (
    'none', 'interference', 'gold-brown', 'dark', 'dyed', 'powdery', 'etched', 'spotted', 'bath-coloured')),
  add constraint "coupon_trial_factors" check (
    "coatingThicknessUm" > 0 and "pH" between 0 and 14 and "currentDensityAPerM2" >= 0),
  add constraint "coupon_trial_grade" check (
    "grade" in ('measured', 'compared', 'photo', 'word')
    and ("grade" not in ('measured', 'photo') or "labL" is not null) and ("grade" <> 'word' or "labL" is null));

-- A trial on a supply has a voltage. That of a series is read when the transaction ends: a draft changes its bath first, and
-- then its coupons.
create function coupon_trial_has_voltage() returns trigger language plpgsql as $$
begin
  if exists (
    select 1 from "coupon_series" s join "coupon_trial" t on t."seriesId" = s."id"
     where s."contents" in ('mild-salt', 'dilute-acid', 'hot-caustic', 'phosphoric', 'sulfuric-anodize') and t."voltageV" is null
       and case tg_table_name when 'coupon_trial' then t."id" else s."id" end = new."id"
  ) then
    raise exception 'a coupon that is coloured by current has a voltage' using errcode = 'check_violation';
  end if;
  return null;
end $$;
create trigger coupon_trial_has_voltage after insert or update on "coupon_trial"
  for each row execute function coupon_trial_has_voltage();
create constraint trigger coupon_trial_has_voltage after update of "contents" on "coupon_series"
  deferrable initially deferred for each row execute function coupon_trial_has_voltage();
