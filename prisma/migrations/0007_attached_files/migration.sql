-- When a file first became part of a record. One that never did is dropped after a while; one that did stays.
alter table "file" add column "attachedAt" timestamptz(3);
create index "file_never_attached" on "file" ("createdAt") where "attachedAt" is null;
