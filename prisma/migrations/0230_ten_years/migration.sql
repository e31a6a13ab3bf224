-- What is asked of ten years is found by an index, or by walking back from today.

-- Trace: figures by what they are, without a look at the readings themselves.
drop index "step_reading_quantity_value_idx";
create index "step_reading_figures" on "step_reading" ("quantity", "value") include ("signOffId");
create index "step_correction_figures" on "step_correction" ("quantity", "newValue");
create index "step_sign_off_supplyId_doneAt_idx" on "step_sign_off" ("supplyId", "doneAt");
create index "step_sign_off_stepKind_doneAt_idx" on "step_sign_off" ("stepKind", "doneAt");
create index "step_sign_off_outside" on "step_sign_off" ("doneAt") where "outside";
-- The beginning of ("bathId", "doneAt"): the planner took it and read every signature of a bath to use the last few.
drop index "step_sign_off_bathId_idx";

-- A lot, and each lock of one, read all final checks for its own.
create index "final_check_travelerId_idx" on "final_check" ("travelerId");
create index "lot_dueDate_id_idx" on "lot" ("dueDate", "id");
create index "lot_held" on "lot" ("id") where "held";
create index "lot_hold_open" on "lot_hold" ("placedAt") where "releasedAt" is null;
create index "lot_to_ship" on "lot" ("dueDate", "id") where "status" <> 'cancelled' and not "held" and "acceptedCount" > "shippedCount";
create index "lot_to_evidence" on "lot" ("recipeRevisionId", "partId") where "status" in ('released', 'running');
create index "order_line_cancelled" on "order_line" ("orderId") where "cancelledAt" is not null;
create index "order_line_due" on "order_line" ("dueDate", "orderId") where "cancelledAt" is null;
create index "analysis_result_state" on "analysis_result" ("state", "analysisId") where "state" in ('watch', 'stop');
create index "analysis_result_component" on "analysis_result" ("component", "analysisId");
create index "chemical_lot_open" on "chemical_lot" ("chemicalId") where "status" = 'open';

-- Words, wherever they stand in what people type.
create index "quotation_number_words" on "quotation" using gin ("number" gin_trgm_ops);
create index "customer_order_words" on "customer_order" using gin ("number" gin_trgm_ops, "customerOrderNumber" gin_trgm_ops);
create index "lot_number_words" on "lot" using gin ("number" gin_trgm_ops);
create index "traveler_number_words" on "traveler" using gin ("number" gin_trgm_ops);
create index "shipment_words" on "shipment" using gin ("number" gin_trgm_ops, "document" gin_trgm_ops);
create index "addition_number_words" on "addition" using gin ("number" gin_trgm_ops);
create index "bath_number_words" on "bath" using gin ("number" gin_trgm_ops);
create index "analysis_number_words" on "analysis" using gin ("number" gin_trgm_ops);
create index "analysis_words" on "analysis" using gin (
  ("number" || ' ' || coalesce("analystName", "snapshot" ->> 'analyst', '') || ' ' || "notes") gin_trgm_ops);
create index "audit_entry_words" on "audit_entry" using gin (
  ("personName" || ' ' || "action" || ' ' || coalesce("recordNumber", '')) gin_trgm_ops);

-- Whether a number is rare is guessed from some of them: of a hundred, one that happens to be among them looks like one in a hundred.
alter table "quotation" alter column "number" set statistics 1000;
alter table "customer_order" alter column "number" set statistics 1000;
alter table "lot" alter column "number" set statistics 1000;
alter table "traveler" alter column "number" set statistics 1000;
alter table "shipment" alter column "number" set statistics 1000;
alter table "analysis" alter column "number" set statistics 1000;
