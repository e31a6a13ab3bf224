import type { ExchangeRate } from '@huelot/contracts';
import { Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';

const exchangeRates = sql`
  select e."id", e."baseCurrency", e."currency", trim_scale(e."rate")::text as "rate", e."day"::text as "day", e."source",
         p."displayName" as "createdBy", to_char(e."createdAt" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"') as "createdAt"
    from "exchange_rate" e join "person" p on p."id" = e."createdById"`;

/** Of the shop's currency, newest day first; of one day the last written first. */
export const readExchangeRates = (
  execute: SqlExecutor,
  { currency, limit }: { currency?: string | undefined; limit: number },
) =>
  execute<ExchangeRate>(sql`${exchangeRates}
     where e."baseCurrency" = (select "currency" from "shop")
       ${currency === undefined ? Prisma.empty : sql`and e."currency" = ${currency}`}
     order by e."day" desc, e."id" desc limit ${limit}`);

export async function readExchangeRate(execute: SqlExecutor, id: number): Promise<ExchangeRate | null> {
  const [row] = await execute<ExchangeRate>(sql`${exchangeRates} where e."id" = ${id}`);
  return row ?? null;
}

/** The shop's currency and day. */
export async function readShopMoney(execute: SqlExecutor): Promise<{ currency: string; day: string }> {
  const [row] = await execute<{ currency: string; day: string }>(
    sql`select "currency", (now() at time zone "timeZone")::date::text as "day" from "shop"`,
  );
  if (row === undefined) throw new Error('there is no shop row');
  return row;
}

export const addExchangeRate = (
  db: Queryable,
  data: {
    baseCurrency: string;
    currency: string;
    rate: string;
    day: Date;
    source: string;
    createdById: number;
  },
) => db.prisma.exchangeRate.create({ data, select: { id: true } });
