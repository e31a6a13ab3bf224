-- Where coupons leave several ways to count the orders, somebody may know the film of the highest one from elsewhere: {thicknessNm, reason}.
-- It is frozen with the rest of the calibration.
alter table "calibration" add column "counted" jsonb;
alter table "calibration" add constraint "calibration_counted_has_reason" check (
  "counted" is null or (jsonb_typeof("counted" -> 'thicknessNm') = 'number' and length("counted" ->> 'reason') > 0));
