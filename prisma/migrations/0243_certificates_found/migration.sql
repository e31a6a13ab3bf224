-- The search box finds certificates by their number, and the list by what stands on them.
create index "certificate_number_words" on "certificate" using gin ("number" gin_trgm_ops);
