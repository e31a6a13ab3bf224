-- How close together the rows of lists stand on a desk, by each person's choice.
alter table "person" add column "density" text not null default 'roomy',
  add constraint "person_density" check ("density" in ('roomy', 'dense'));
