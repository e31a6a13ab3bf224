-- An answer to a write with a key is kept as it was sent, to the byte.
alter table "answered" alter column "reply" type text using "reply"::text;
