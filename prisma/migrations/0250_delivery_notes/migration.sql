-- Delivery notes: shipments of one customer gathered on one numbered paper, frozen with what it says; what came back against them; and
-- which shipments wait for one. A wrong note is withdrawn with a reason, and its shipments go on another.
create table "delivery_note" (
  "id" serial not null,
  "number" text not null,
  "facts" jsonb not null,
  "issuedById" integer not null,
  "issuedAt" timestamptz(3) not null default current_timestamp,
  "withdrawnById" integer,
  "withdrawnAt" timestamptz(3),
  "withdrawReason" text not null default '',
  "snapshot" jsonb not null default '{}',
  constraint "delivery_note_pkey" primary key ("id"),
  constraint "delivery_note_withdrawn" check (
    ("withdrawnAt" is null) = ("withdrawnById" is null) and ("withdrawnAt" is null) = ("withdrawReason" = ''))
);
create unique index "delivery_note_number_key" on "delivery_note" ("number");
create index "delivery_note_number_words" on "delivery_note" using gin ("number" gin_trgm_ops);

create table "delivery_line" (
  "id" serial not null,
  "noteId" integer not null,
  "shipmentId" integer not null,
  constraint "delivery_line_pkey" primary key ("id"),
  constraint "delivery_line_noteId_fkey" foreign key ("noteId") references "delivery_note" ("id") on delete restrict on update cascade,
  constraint "delivery_line_shipmentId_fkey" foreign key ("shipmentId") references "shipment" ("id") on delete restrict on update cascade
);
create unique index "delivery_line_noteId_shipmentId_key" on "delivery_line" ("noteId", "shipmentId");
create index "delivery_line_shipmentId_idx" on "delivery_line" ("shipmentId");

create table "delivery_due" (
  "shipmentId" integer not null,
  "since" timestamptz(3) not null default current_timestamp,
  constraint "delivery_due_pkey" primary key ("shipmentId"),
  constraint "delivery_due_shipmentId_fkey" foreign key ("shipmentId") references "shipment" ("id") on delete restrict on update cascade
);
-- What left long before notes were kept is not asked for.
insert into "delivery_due" ("shipmentId", "since")
select "id", "shippedAt" from "shipment" where "shippedAt" > now() - interval '30 days';

-- Whatever ships a lot, its shipment waits for a note from then on.
create function shipment_awaits_delivery_note() returns trigger language plpgsql as $$
begin
  insert into "delivery_due" ("shipmentId", "since") values (new."id", new."shippedAt");
  return null;
end $$;
create trigger awaits_delivery_note after insert on "shipment" for each row execute function shipment_awaits_delivery_note();

create table "goods_return" (
  "id" serial not null,
  "noteId" integer not null,
  "shipmentId" integer not null,
  "quantity" integer not null,
  "returnedOn" date not null,
  "reason" text not null,
  "notes" text not null default '',
  "recordedById" integer not null,
  "recordedAt" timestamptz(3) not null default current_timestamp,
  "withdrawnById" integer,
  "withdrawnAt" timestamptz(3),
  "withdrawReason" text not null default '',
  "snapshot" jsonb not null default '{}',
  constraint "goods_return_pkey" primary key ("id"),
  constraint "goods_return_noteId_fkey" foreign key ("noteId") references "delivery_note" ("id") on delete restrict on update cascade,
  constraint "goods_return_shipmentId_fkey" foreign key ("shipmentId") references "shipment" ("id") on delete restrict on update cascade,
  constraint "goods_return_quantity" check ("quantity" > 0),
  constraint "goods_return_withdrawn" check (
    ("withdrawnAt" is null) = ("withdrawnById" is null) and ("withdrawnAt" is null) = ("withdrawReason" = ''))
);
create index "goods_return_noteId_idx" on "goods_return" ("noteId");
create index "goods_return_shipmentId_idx" on "goods_return" ("shipmentId");

create trigger write_snapshot before insert or update on "delivery_note" for each row
  execute function take_snapshot('issuedBy person issuedById', 'withdrawnBy person withdrawnById');
create trigger write_snapshot before insert or update on "goods_return" for each row
  execute function take_snapshot('recordedBy person recordedById', 'withdrawnBy person withdrawnById');

create function withdrawn_once() returns trigger language plpgsql as $$
declare fate text[] := array['withdrawnById', 'withdrawnAt', 'withdrawReason'];
begin
  if tg_op = 'DELETE' or old."withdrawnAt" is not null or to_jsonb(old) - fate <> to_jsonb(new) - fate then
    raise exception '% % is issued: withdraw it', tg_table_name, old."id" using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger delivery_note_frozen before update or delete on "delivery_note" for each row execute function withdrawn_once();
create trigger goods_return_frozen before update or delete on "goods_return" for each row execute function withdrawn_once();

-- A shipment stands on one note: whoever adds a second waits for the first, and is refused.
create function delivery_line_frozen() returns trigger language plpgsql as $$
begin
  if tg_op <> 'INSERT' then
    raise exception 'line % of a delivery note is issued', old."id" using errcode = 'HU001';
  end if;
  perform 1 from "shipment" where "id" = new."shipmentId" for update;
  if exists (select from "delivery_line" l join "delivery_note" n on n."id" = l."noteId"
              where l."shipmentId" = new."shipmentId" and n."withdrawnAt" is null) then
    raise exception 'shipment % stands on a delivery note', new."shipmentId" using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger delivery_line_frozen before insert or update or delete on "delivery_line"
  for each row execute function delivery_line_frozen();

create trigger never_emptied before truncate on "delivery_note" for each statement execute function refuse_truncate();
create trigger never_emptied before truncate on "delivery_line" for each statement execute function refuse_truncate();
create trigger never_emptied before truncate on "goods_return" for each statement execute function refuse_truncate();

alter table "issued_paper" drop constraint "issued_paper_kind_check";
alter table "issued_paper" add constraint "issued_paper_kind_check"
  check ("kind" in ('quotation', 'traveler', 'certificate', 'delivery-note', 'invoice'));
insert into "number_series" ("kind", "prefix") values ('delivery-note', 'DN-');

select chain_writes_of('delivery_note');
select chain_writes_of('delivery_line');
select chain_writes_of('goods_return');
