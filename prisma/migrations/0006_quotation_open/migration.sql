-- A draft may be in work while the revision before it is still out with the customer.
drop index "quotation_one_open";
create unique index "quotation_one_draft" on "quotation_revision" ("quotationId") where "status" = 'draft';
create unique index "quotation_one_out" on "quotation_revision" ("quotationId") where "status" in ('sent', 'accepted');
