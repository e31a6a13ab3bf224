import type { PageKind } from '@huelot/contracts';
import { sql, type Prisma } from '../db/client.ts';

/**
 * In SQL, the page that shows a record: its kind and its id. The address is made in the web app.
 *
 * @example
 * sql`select ${pageOf('lot', sql`l."id"`)} as "page" from "lot" l`
 */
export const pageOf = (kind: PageKind, id: Prisma.Sql): Prisma.Sql =>
  sql`json_build_object('kind', ${kind}::text, 'id', ${id})`;
