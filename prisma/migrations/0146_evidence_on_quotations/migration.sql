-- What the evidence said of a line when it was sent, and who let it be quoted without.
alter table "quotation_line" add column "evidence" jsonb;
