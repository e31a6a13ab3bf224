-- A first article was measured with one of the lab's instruments, and whether its calibration was overdue then stays with it. The
-- words of before stay.
alter table "recipe_evidence" add column "instrumentId" integer, add column "instrumentOverdue" boolean not null default false;
create index "recipe_evidence_instrumentId_idx" on "recipe_evidence"("instrumentId");
alter table "recipe_evidence" add constraint "recipe_evidence_instrumentId_fkey" foreign key ("instrumentId") references "instrument"("id")
  on delete set null on update cascade;
alter table "recipe_evidence" add constraint "recipe_evidence_overdue" check (not "instrumentOverdue" or "instrumentId" is not null);

-- A trial is charged once: which quotation charges it is found without reading every line that was ever quoted.
create index "quotation_line_charged_trials" on "quotation_line" using gin (("options" -> 'oneOffs') jsonb_path_ops);
