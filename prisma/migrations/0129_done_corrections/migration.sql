-- A step that was signed by mistake is put right beside its signature: not done, or done at another time.

create table "step_done_correction" (
    "id" serial not null,
    "signOffId" integer not null,
    "doneAt" timestamptz(3),
    "reason" text not null,
    "correctedById" integer not null,
    "correctedAt" timestamptz(3) not null default current_timestamp,
    "snapshot" jsonb not null default '{}',
    constraint "step_done_correction_pkey" primary key ("id")
);
create index "step_done_correction_signOffId_idx" on "step_done_correction"("signOffId");
alter table "step_done_correction" add constraint "step_done_correction_signOffId_fkey" foreign key ("signOffId") references "step_sign_off"("id") on delete restrict on update cascade;
alter table "step_done_correction"
  add constraint "step_done_correction_reason" check ("reason" <> ''),
  add constraint "step_done_correction_past" check ("doneAt" is null or "doneAt" <= "correctedAt");
create trigger step_done_correction_stands before update or delete on "step_done_correction"
  for each row execute function refuse_change('a correction');
create trigger never_emptied before truncate on "step_done_correction"
  for each statement execute function refuse_truncate();
create trigger write_snapshot before insert on "step_done_correction" for each row
  execute function take_snapshot('correctedBy person correctedById');

select chain_writes_of('step_done_correction');
