-- Money in the currencies of customers: what the shop's currency was worth in theirs, on a day, by a source.
create table "exchange_rate" (
  "id" serial primary key,
  "baseCurrency" text not null,
  "currency" text not null,
  "rate" decimal(18,8) not null,
  "day" date not null,
  "source" text not null,
  "createdById" integer not null,
  "createdAt" timestamptz(3) not null default current_timestamp,
  constraint "exchange_rate_positive" check ("rate" > 0),
  constraint "exchange_rate_of_two" check ("currency" <> "baseCurrency")
);
create index "exchange_rate_currency_day_idx" on "exchange_rate" ("currency", "day");
create trigger exchange_rate_stands before update or delete on "exchange_rate"
  for each row execute function refuse_change('a rate of exchange');
create trigger never_emptied before truncate on "exchange_rate"
  for each statement execute function refuse_truncate();

alter table "quotation_revision" add column "exchangeRateId" integer;
alter table "quotation_revision" add constraint "quotation_revision_exchangeRateId_fkey"
  foreign key ("exchangeRateId") references "exchange_rate" ("id") on delete set null on update cascade;

-- Currencies count 0, 2 or 3 decimals, a price of a piece two more: an amount keeps those it was written with.
alter table "quotation_break" alter column "totalPrice" type decimal, alter column "unitPrice" type decimal;
alter table "order_line" alter column "totalPrice" type decimal, alter column "unitPrice" type decimal;
alter table "chemical" alter column "pricePerKg" type decimal;
alter table "chemical_lot" alter column "pricePerKg" type decimal;

-- The figures of a shop do not change their currency: what was written as 40 of one would read 40 of another.
create function shop_currency_stands() returns trigger language plpgsql as $$
begin
  if new."currency" <> old."currency" and (
    exists (select 1 from "rate_card") or exists (select 1 from "exchange_rate") or exists (select 1 from "quotation")
    or exists (select 1 from "customer_order") or exists (select 1 from "chemical_lot" where "pricePerKg" is not null)
    or exists (select 1 from "chemical" where "pricePerKg" is not null)
  ) then
    raise exception 'the currency of the shop cannot be changed: its rates and prices are in %', old."currency"
      using errcode = 'HU001';
  end if;
  return new;
end $$;
create trigger shop_currency_stands before update of "currency" on "shop"
  for each row execute function shop_currency_stands();

select chain_writes_of('exchange_rate');
create trigger never_emptied before truncate on "shop"
  for each statement execute function refuse_truncate();
