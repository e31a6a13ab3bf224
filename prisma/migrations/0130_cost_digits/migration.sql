-- What an addition cost keeps the decimals of the shop's currency: 0, 2 or 3. What was written keeps its own.
alter table "addition_line" alter column "cost" type decimal;
