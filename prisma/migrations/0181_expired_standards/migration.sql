-- A reading that was taken after its standard had run out: it is compared, and holds its lot until somebody answers for it.
alter table "colour_reading" add column "standardExpired" boolean not null default false;
alter table "colour_reading" add constraint "colour_reading_expired_holds" check (
  not "standardExpired" or "verdict" is null or "verdict" = 'hold');
