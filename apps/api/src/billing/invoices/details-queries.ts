import type { BillingDetails } from '@huelot/contracts';
import { sql, type Queryable, type SqlExecutor } from '../../db/client.ts';

const select = {
  country: true,
  taxNumber: true,
  iban: true,
  bic: true,
  paymentDays: true,
  version: true,
} as const;
export const readDetails = (db: Queryable): Promise<BillingDetails> =>
  db.prisma.shop.findUniqueOrThrow({ where: { id: 1 }, select });
export const lockShop = (execute: SqlExecutor) =>
  execute(sql`select "id" from "shop" where "id" = 1 for update`);
export const changeDetails = (db: Queryable, data: Omit<BillingDetails, 'version'>) =>
  db.prisma.shop.update({
    where: { id: 1 },
    data: { ...data, version: { increment: 1 } },
    select: { id: true },
  });
