-- Each delivery of a line is a row of its own, with who counted it and when; so is each correction of the count.
create table "order_receipt" (
  "id" serial primary key,
  "orderLineId" integer not null,
  "kind" text not null,
  "count" integer not null,
  "total" integer not null,
  "reason" text not null default '',
  "receivedById" integer not null,
  "receivedAt" timestamptz(3) not null default current_timestamp,
  "snapshot" jsonb not null default '{}',
  constraint "order_receipt_orderLineId_fkey" foreign key ("orderLineId") references "order_line" ("id")
    on delete restrict on update cascade,
  constraint "order_receipt_kind" check ("kind" in ('delivery', 'correction')),
  constraint "order_receipt_counts" check ("total" >= 0 and ("kind" = 'correction' or "count" >= 0))
);
create index "order_receipt_orderLineId_idx" on "order_receipt" ("orderLineId");

create trigger write_snapshot before insert on "order_receipt" for each row
  execute function take_snapshot('receivedBy person receivedById');

-- Of deliveries before this point only the last count and day are known.
insert into "order_receipt" ("orderLineId", "kind", "count", "total", "receivedById", "receivedAt")
  select "id", 'delivery', "receivedCount", "receivedCount", "receivedById", "receivedAt" from "order_line"
   where "receivedCount" is not null and "receivedById" is not null and "receivedAt" is not null;

create trigger order_receipt_stands before update or delete on "order_receipt"
  for each row execute function refuse_change('a receipt');
create trigger never_emptied before truncate on "order_receipt"
  for each statement execute function refuse_truncate();

select chain_writes_of('order_receipt');
