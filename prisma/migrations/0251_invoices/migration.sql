-- Invoices and credit notes: drafts until they are issued, then frozen under a number of a series without gaps; which shipments wait to
-- be invoiced; payments; and what an invoice says of the shop and of the customer that nothing asked for so far.
alter table "shop" add column "country" text not null default '';
alter table "shop" add column "taxNumber" text not null default '';
alter table "shop" add column "iban" text not null default '';
alter table "shop" add column "bic" text not null default '';
alter table "shop" add column "paymentDays" integer not null default 30;
alter table "customer" add column "country" text not null default '';
alter table "customer" add column "paymentDays" integer;
alter table "customer" add column "noTaxReason" text not null default '';
alter table "customer" add constraint "customer_noTaxReason" check (
  "noTaxReason" in ('', 'zero-rated', 'exempt', 'reverse-charge', 'export', 'intra-community'));

create table "invoice" (
  "id" serial not null,
  "kind" text not null,
  "number" text,
  "customerId" integer not null,
  "creditsId" integer,
  "frees" boolean not null default false,
  "currency" text not null,
  "paymentDays" integer not null,
  "notes" text not null default '',
  "reason" text not null default '',
  "taxRatePercent" decimal(6, 3),
  "net" decimal,
  "tax" decimal,
  "gross" decimal,
  "issuedOn" date,
  "dueOn" date,
  "facts" jsonb,
  "createdById" integer not null,
  "createdAt" timestamptz(3) not null default current_timestamp,
  "issuedById" integer,
  "issuedAt" timestamptz(3),
  "version" integer not null default 1,
  "snapshot" jsonb not null default '{}',
  constraint "invoice_pkey" primary key ("id"),
  constraint "invoice_customerId_fkey" foreign key ("customerId") references "customer" ("id") on delete restrict on update cascade,
  constraint "invoice_creditsId_fkey" foreign key ("creditsId") references "invoice" ("id") on delete restrict on update cascade,
  constraint "invoice_kind" check ("kind" in ('invoice', 'credit-note')),
  constraint "invoice_credits" check (
    ("kind" = 'credit-note') = ("creditsId" is not null) and ("kind" = 'credit-note') = ("reason" <> '') and ("kind" = 'credit-note' or not "frees")),
  constraint "invoice_issued" check (
    num_nulls("number", "taxRatePercent", "net", "tax", "gross", "issuedOn", "dueOn", "facts", "issuedById", "issuedAt") in (0, 10))
);
create unique index "invoice_number_key" on "invoice" ("number");
create index "invoice_customerId_idx" on "invoice" ("customerId");
create index "invoice_creditsId_idx" on "invoice" ("creditsId");
create index "invoice_issuedOn_idx" on "invoice" ("issuedOn");
create index "invoice_number_words" on "invoice" using gin ("number" gin_trgm_ops);

create table "invoice_line" (
  "id" serial not null,
  "invoiceId" integer not null,
  "position" integer not null,
  "kind" text not null,
  "orderLineId" integer not null,
  "shipmentId" integer,
  "oneOffIndex" integer,
  "label" text not null default '',
  "quantity" integer not null,
  "basisTotal" decimal not null,
  "basisQuantity" integer not null,
  "priceReason" text not null default '',
  "net" decimal not null,
  "creditsLineId" integer,
  constraint "invoice_line_pkey" primary key ("id"),
  constraint "invoice_line_invoiceId_fkey" foreign key ("invoiceId") references "invoice" ("id") on delete restrict on update cascade,
  constraint "invoice_line_orderLineId_fkey" foreign key ("orderLineId") references "order_line" ("id") on delete restrict on update cascade,
  constraint "invoice_line_shipmentId_fkey" foreign key ("shipmentId") references "shipment" ("id") on delete restrict on update cascade,
  constraint "invoice_line_creditsLineId_fkey" foreign key ("creditsLineId") references "invoice_line" ("id") on delete restrict on update cascade,
  constraint "invoice_line_kind" check ("kind" in ('pieces', 'one-off')
    and ("kind" = 'pieces') = ("shipmentId" is not null) and ("kind" = 'one-off') = ("oneOffIndex" is not null)),
  constraint "invoice_line_amounts" check ("quantity" > 0 and "basisQuantity" > 0 and "basisTotal" >= 0 and "net" >= 0)
);
create unique index "invoice_line_invoiceId_position_key" on "invoice_line" ("invoiceId", "position");
create index "invoice_line_orderLineId_idx" on "invoice_line" ("orderLineId");
create index "invoice_line_shipmentId_idx" on "invoice_line" ("shipmentId");
create index "invoice_line_creditsLineId_idx" on "invoice_line" ("creditsLineId");

create table "invoice_due" (
  "shipmentId" integer not null,
  "since" timestamptz(3) not null default current_timestamp,
  constraint "invoice_due_pkey" primary key ("shipmentId"),
  constraint "invoice_due_shipmentId_fkey" foreign key ("shipmentId") references "shipment" ("id") on delete restrict on update cascade
);
-- What left long before invoices were written here is not asked for.
insert into "invoice_due" ("shipmentId", "since")
select "id", "shippedAt" from "shipment" where "shippedAt" > now() - interval '30 days';

create table "payment" (
  "id" serial not null,
  "invoiceId" integer not null,
  "amount" decimal not null,
  "paidOn" date not null,
  "reference" text not null default '',
  "bankKey" text,
  "recordedById" integer not null,
  "recordedAt" timestamptz(3) not null default current_timestamp,
  "withdrawnById" integer,
  "withdrawnAt" timestamptz(3),
  "withdrawReason" text not null default '',
  "snapshot" jsonb not null default '{}',
  constraint "payment_pkey" primary key ("id"),
  constraint "payment_invoiceId_fkey" foreign key ("invoiceId") references "invoice" ("id") on delete restrict on update cascade,
  constraint "payment_amount" check ("amount" <> 0),
  constraint "payment_withdrawn" check (
    ("withdrawnAt" is null) = ("withdrawnById" is null) and ("withdrawnAt" is null) = ("withdrawReason" = ''))
);
create index "payment_invoiceId_idx" on "payment" ("invoiceId");
create index "payment_paidOn_idx" on "payment" ("paidOn");
-- A line of the bank is booked once, whoever imports it and how often.
create unique index "payment_bank_once" on "payment" ("bankKey") where "withdrawnAt" is null;

-- Pieces of a shipment that no invoice takes and that did not come back. A credit note that frees them makes them due again; below 0 are
-- pieces that came back after they were invoiced.
create function pieces_to_invoice(shipment integer) returns integer language sql stable as $$
  select s."quantity" - coalesce((
    select sum(r."quantity") from "goods_return" r where r."shipmentId" = s."id" and r."withdrawnAt" is null), 0)::integer - coalesce((
    select sum(case when l."creditsLineId" is null then l."quantity" when i."frees" then -l."quantity" else 0 end)
      from "invoice_line" l join "invoice" i on i."id" = l."invoiceId" where l."shipmentId" = s."id"), 0)::integer
    from "shipment" s where s."id" = shipment $$;
create function refresh_invoice_due(shipment integer) returns void language plpgsql as $$
begin
  if pieces_to_invoice(shipment) > 0 then
    insert into "invoice_due" ("shipmentId") values (shipment) on conflict do nothing;
  else
    delete from "invoice_due" where "shipmentId" = shipment;
  end if;
end $$;
create function shipment_awaits_invoice() returns trigger language plpgsql as $$
begin
  insert into "invoice_due" ("shipmentId", "since") values (new."id", new."shippedAt");
  return null;
end $$;
create trigger awaits_invoice after insert on "shipment" for each row execute function shipment_awaits_invoice();

create trigger write_snapshot before insert or update on "invoice" for each row
  execute function take_snapshot('createdBy person createdById', 'issuedBy person issuedById');
create trigger write_snapshot before insert or update on "payment" for each row
  execute function take_snapshot('recordedBy person recordedById', 'withdrawnBy person withdrawnById');

create function invoice_frozen() returns trigger language plpgsql as $$
begin
  if old."issuedAt" is not null then
    raise exception '% is issued: a credit note corrects it', old."number" using errcode = 'HU001';
  end if;
  return case tg_op when 'DELETE' then old else new end;
end $$;
create trigger invoice_frozen before update or delete on "invoice" for each row execute function invoice_frozen();

-- The last word on what may be invoiced: whoever adds a second line for the same pieces waits for the first, and is refused.
create function invoice_line_frozen() returns trigger language plpgsql as $$
declare
  mine invoice_line := case tg_op when 'DELETE' then old else new end;
  credited record;
begin
  if tg_op = 'UPDATE' or exists (select from "invoice" where "id" = mine."invoiceId" and "issuedAt" is not null) then
    raise exception 'line % of an invoice stands', mine."id" using errcode = 'HU001';
  end if;
  if tg_op = 'DELETE' then return old; end if;
  if mine."shipmentId" is not null then perform 1 from "shipment" where "id" = mine."shipmentId" for update; end if;
  perform 1 from "order_line" where "id" = mine."orderLineId" for update;
  if mine."creditsLineId" is not null then
    select l."quantity", l."net", coalesce(sum(c."quantity"), 0) as "gone", coalesce(sum(c."net"), 0) as "back" into credited
      from "invoice_line" l left join "invoice_line" c on c."creditsLineId" = l."id" where l."id" = mine."creditsLineId" group by l."id";
    if credited."gone" + mine."quantity" > credited."quantity" or credited."back" + mine."net" > credited."net" then
      raise exception 'a credit note gives back no more than line % invoiced', mine."creditsLineId" using errcode = 'HU001';
    end if;
  elsif mine."shipmentId" is not null and pieces_to_invoice(mine."shipmentId") < mine."quantity" then
    raise exception 'shipment % is invoiced already', mine."shipmentId" using errcode = 'HU001';
  elsif mine."oneOffIndex" is not null and (
    select coalesce(sum(case when l."creditsLineId" is null then 1 when i."frees" then -1 else 0 end), 0)
      from "invoice_line" l join "invoice" i on i."id" = l."invoiceId"
     where l."orderLineId" = mine."orderLineId" and l."oneOffIndex" = mine."oneOffIndex") > 0 then
    raise exception 'charge % of an order line is invoiced already', mine."label" using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger invoice_line_frozen before insert or update or delete on "invoice_line"
  for each row execute function invoice_line_frozen();
create function invoice_line_counts() returns trigger language plpgsql as $$
begin
  perform refresh_invoice_due(coalesce(new."shipmentId", old."shipmentId"));
  return null;
end $$;
create trigger counts_for_due after insert or delete on "invoice_line" for each row execute function invoice_line_counts();

create function return_counts_for_due() returns trigger language plpgsql as $$
begin
  perform refresh_invoice_due(new."shipmentId");
  return null;
end $$;
create trigger counts_for_due after insert or update on "goods_return" for each row execute function return_counts_for_due();

create trigger payment_frozen before update or delete on "payment" for each row execute function withdrawn_once();

create trigger never_emptied before truncate on "invoice" for each statement execute function refuse_truncate();
create trigger never_emptied before truncate on "invoice_line" for each statement execute function refuse_truncate();
create trigger never_emptied before truncate on "payment" for each statement execute function refuse_truncate();

alter table "issued_paper" drop constraint "issued_paper_kind_check";
alter table "issued_paper" add constraint "issued_paper_kind_check"
  check ("kind" in ('quotation', 'traveler', 'certificate', 'delivery-note', 'invoice', 'credit-note', 'invoice-file', 'customer-letter'));
insert into "number_series" ("kind", "prefix") values ('invoice', 'INV-'), ('credit-note', 'CR-');

-- Numbers of invoices follow each other without a gap: once one is given, the series is moved by issuing only.
create function gapless_series() returns trigger language plpgsql as $$
begin
  if new."next" <> old."next" and new."next" <> old."next" + 1 and exists (select from "invoice" where "kind" = old."kind" and "number" is not null) then
    raise exception 'the numbers of % follow each other without a gap', old."kind" using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger gapless before update on "number_series" for each row
  when (old."kind" in ('invoice', 'credit-note')) execute function gapless_series();

select chain_writes_of('invoice');
select chain_writes_of('payment');
