-- What a colour was measured with is one of the lab's instruments, and whether its calibration was overdue then stays with the
-- reading. The words of before stay; a file of an instrument may name another one.
alter table "colour_reading" add column "instrumentId" integer, add column "instrumentOverdue" boolean not null default false;
create index "colour_reading_instrumentId_idx" on "colour_reading"("instrumentId");
alter table "colour_reading" add constraint "colour_reading_instrumentId_fkey" foreign key ("instrumentId") references "instrument"("id")
  on delete set null on update cascade;
alter table "colour_reading" add constraint "colour_reading_overdue" check (not "instrumentOverdue" or "instrumentId" is not null);
