-- Counts of a signed step are put right beside what was signed, as readings are.

create table "step_count_correction" (
    "id" serial not null,
    "signOffId" integer not null,
    "countOut" integer not null,
    "rejectCount" integer not null,
    "countDifference" integer not null,
    "reason" text not null,
    "correctedById" integer not null,
    "correctedAt" timestamptz(3) not null default current_timestamp,
    "snapshot" jsonb not null default '{}',
    constraint "step_count_correction_pkey" primary key ("id")
);
create index "step_count_correction_signOffId_idx" on "step_count_correction"("signOffId");
alter table "step_count_correction" add constraint "step_count_correction_signOffId_fkey" foreign key ("signOffId") references "step_sign_off"("id") on delete restrict on update cascade;
alter table "step_count_correction"
  add constraint "step_count_correction_counts" check ("countOut" >= 0 and "rejectCount" >= 0),
  add constraint "step_count_correction_reason" check ("reason" <> '');
create trigger step_count_correction_stands before update or delete on "step_count_correction"
  for each row execute function refuse_change('a correction');
create trigger never_emptied before truncate on "step_count_correction"
  for each statement execute function refuse_truncate();
create trigger write_snapshot before insert on "step_count_correction" for each row
  execute function take_snapshot('correctedBy person correctedById');

select chain_writes_of('step_count_correction');
