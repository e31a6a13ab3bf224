-- What a sealed coating on aluminium loses in acid is measured of coupons, too.
alter table "film_measurement" drop constraint "film_measurement_kind",
  add constraint "film_measurement_kind" check ("kind" in ('cross-section', 'coating-mass', 'diffraction', 'pores', 'seal-loss'));
