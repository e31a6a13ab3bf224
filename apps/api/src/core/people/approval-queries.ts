import type { Role } from '@huelot/contracts';
import { sql, type Queryable, type SqlExecutor } from '../../db/client.ts';

/** People of these roles who can sign in, beside one of them. */
export const readOthers = (
  execute: SqlExecutor,
  { personId, roles }: { personId: number; roles: readonly Role[] },
): Promise<{ displayName: string }[]> =>
  execute(sql`
    select "displayName" from "person"
     where "active" and "passwordHash" is not null and "id" <> ${personId} and "roles" && ${[...roles]}::text[]
     order by "displayName" limit 5`);

export async function readApprovalRules(db: Queryable) {
  const { selfApproval, version } = await db.prisma.shop.findUniqueOrThrow({ where: { id: 1 } });
  return { selfApproval, version };
}
export const lockShop = (execute: SqlExecutor) =>
  execute(sql`select "id" from "shop" where "id" = 1 for update`);
export const setSelfApproval = (db: Queryable, selfApproval: boolean) =>
  db.prisma.shop.update({ where: { id: 1 }, data: { selfApproval, version: { increment: 1 } } });
