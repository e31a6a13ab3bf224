-- What the supply should show for the whole load of a lot, computed when the traveler is issued.
alter table "traveler_step" add column "load" jsonb;
