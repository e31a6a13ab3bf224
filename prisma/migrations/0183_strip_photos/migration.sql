-- Photos of strips stay with the series, and where somebody pointed at on them: the reference, and each band by its number.
create table "coupon_photo" (
    "id" serial not null,
    "seriesId" integer not null,
    "position" integer not null,
    "fileId" integer not null,
    "marks" jsonb not null default '[]',
    constraint "coupon_photo_pkey" primary key ("id")
);
create unique index "coupon_photo_seriesId_position_key" on "coupon_photo"("seriesId", "position");
create index "coupon_photo_fileId_idx" on "coupon_photo"("fileId");
alter table "coupon_photo" add constraint "coupon_photo_seriesId_fkey" foreign key ("seriesId") references "coupon_series"("id") on delete restrict on update cascade;
alter table "coupon_photo" add constraint "coupon_photo_fileId_fkey" foreign key ("fileId") references "file"("id") on delete restrict on update cascade;

-- They freeze with the trials of the series.
create trigger coupon_photo_frozen before insert or update or delete on "coupon_photo"
  for each row execute function coupon_trial_frozen();
create trigger never_emptied before truncate on "coupon_photo" for each statement execute function refuse_truncate();
