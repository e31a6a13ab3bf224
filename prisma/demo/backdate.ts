import { inTransaction, Prisma, sql, type Db } from '../../apps/api/src/db/client.ts';

/** What was written between two marks happened, in the story, at `at`. */
export interface Moment {
  since: Date;
  auditAfter: string;
  at: number;
}

/** Every instant that the use cases of the history write. */
const stamped: readonly [table: string, columns: readonly string[]][] = [
  ['quotation', ['createdAt']],
  ['quotation_revision', ['createdAt', 'sentAt', 'decidedAt']],
  ['customer_order', ['createdAt']],
  ['order_line', ['receivedAt']],
  ['lot', ['createdAt']],
  ['traveler', ['issuedAt']],
  ['step_sign_off', ['doneAt', 'enteredAt']],
  ['lot_hold', ['placedAt', 'releasedAt']],
  ['final_check', ['checkedAt']],
  ['shipment', ['shippedAt']],
];

/**
 * Moves the invented history back in time. The record refuses such changes by its triggers, so this asks the server, as
 * its superuser, to keep them still for one transaction: possible only in the demo's own database.
 */
export const backdate = {
  mark: async (db: Db): Promise<Pick<Moment, 'since' | 'auditAfter'>> => {
    const [row] = await db.run<{ since: Date; auditAfter: string }>(
      sql`select clock_timestamp() as "since", coalesce((select max("id") from "audit_entry"), 0)::text as "auditAfter"`,
    );
    if (row === undefined) throw new Error('the database has no clock');
    return row;
  },

  apply: async (
    db: Db,
    moments: readonly Moment[],
    of: { quotationId: number; validDays: number },
  ): Promise<void> => {
    await inTransaction(db, async ({ run }) => {
      await run(sql`select set_config('session_replication_role', 'replica', true)`);
      // The latest first: each moment then claims what no later one has moved already.
      for (const { since, auditAfter, at } of [...moments].reverse()) {
        const when = new Date(at);
        for (const [table, columns] of stamped) {
          for (const column of columns) {
            const [name, field] = [Prisma.raw(`"${table}"`), Prisma.raw(`"${column}"`)];
            await run(sql`update ${name} set ${field} = ${when} where ${field} >= ${since}`);
          }
        }
        await run(
          sql`update "audit_entry" set "at" = ${when} where "id" > ${auditAfter}::bigint and "at" >= ${since}`,
        );
      }
      await run(sql`
        update "quotation_revision" set "validUntil" = coalesce("sentAt", "createdAt")::date + ${of.validDays}::int where "quotationId" = ${of.quotationId}`);
    });
  },
};
