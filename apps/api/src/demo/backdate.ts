import { inTransaction, Prisma, sql, type Db, type SqlExecutor } from '../db/client.ts';

/** What was written from `since` on happened, in the story, at `at`. */
interface Moment {
  since: Date;
  auditAfter: string;
  at: Date;
}

export interface Timeline {
  /** Does something through a use case, as if it had happened at `when`; what is to come counts as just now. */
  at: <T>(when: number, doing: () => Promise<T>) => Promise<T>;
  /** Moves everything that was done so far back to its moment. */
  settle: () => Promise<void>;
}

/**
 * Tells a stretch of the invented past through the use cases that serve real people.
 *
 * @example
 * const story = openStory(db);
 * await story.at(monday, () => addCustomer(db, { actor, facts }));
 * await story.settle();
 */
export function createTimeline(db: Db): Timeline {
  const moments: Moment[] = [];
  return {
    at: async (when, doing) => {
      const [mark] = await db.execute<Pick<Moment, 'since' | 'auditAfter'>>(
        sql`select clock_timestamp() as "since", coalesce((select max("id") from "audit_entry"), 0)::text as "auditAfter"`,
      );
      if (mark === undefined) throw new Error('the database has no clock');
      const result = await doing();
      moments.push({ ...mark, at: new Date(Math.min(when, Date.now() - 60_000)) });
      return result;
    },
    settle: () => withoutTriggers(db, (execute) => moveBack(execute, moments.splice(0))),
  };
}

/**
 * Changes what the record refuses to change: asks the server, as its superuser, to keep the triggers still for one
 * transaction. Possible only in the demo's own database.
 */
export const withoutTriggers = (db: Db, work: (execute: SqlExecutor) => Promise<unknown>): Promise<void> =>
  inTransaction(db, async ({ execute }) => {
    await execute(sql`select set_config('session_replication_role', 'replica', true)`);
    await work(execute);
  });

/** Every instant that the use cases of the story write. */
const stamped: Record<string, readonly string[]> = {
  person: ['createdAt', 'passwordChangedAt'],
  competence: ['grantedAt', 'withdrawnAt'],
  competence_override: ['grantedAt'],
  sign_in: ['createdAt', 'lastSeenAt', 'endedAt'],
  one_time_link: ['createdAt', 'usedAt'],
  material: ['createdAt'],
  tank: ['createdAt'],
  bath: ['madeUpAt'],
  power_supply: ['createdAt'],
  rack: ['createdAt'],
  rate_card: ['createdAt'],
  exchange_rate: ['createdAt'],
  recipe: ['createdAt'],
  recipe_revision: ['createdAt', 'approvedAt', 'supersededAt'],
  colour_standard: ['createdAt'],
  colour_standard_revision: ['createdAt', 'approvedAt', 'endedAt'],
  coupon_series: ['createdAt', 'approvedAt', 'endedAt'],
  calibration: ['createdAt', 'approvedAt', 'endedAt'],
  trial_run: ['plannedAt', 'signedAt'],
  trial_event: ['at'],
  recipe_evidence: ['citedAt', 'withdrawnAt'],
  evidence_exception: ['allowedAt'],
  customer: ['createdAt'],
  file: ['createdAt', 'attachedAt'],
  measurement: ['createdAt', 'heartbeatAt'],
  part: ['createdAt', 'areaFoundAt'],
  polarization_scan: ['enteredAt'],
  film_measurement: ['enteredAt'],
  enquiry: ['createdAt'],
  enquiry_decision: ['at'],
  quotation: ['createdAt'],
  quotation_revision: ['createdAt', 'sentAt', 'decidedAt'],
  customer_order: ['createdAt'],
  order_line: ['receivedAt'],
  order_receipt: ['receivedAt'],
  lot: ['createdAt'],
  traveler: ['issuedAt'],
  step_sign_off: ['doneAt', 'enteredAt'],
  colour_reading: ['readAt'],
  lot_hold: ['placedAt', 'releasedAt'],
  final_check: ['checkedAt'],
  shipment: ['shippedAt'],
  delivery_due: ['since'],
  delivery_note: ['issuedAt', 'withdrawnAt'],
  goods_return: ['recordedAt', 'withdrawnAt'],
  invoice_due: ['since'],
  invoice: ['createdAt', 'issuedAt'],
  payment: ['recordedAt', 'withdrawnAt'],
  certificate: ['signedAt', 'withdrawnAt'],
  nonconformance: ['openedAt'],
  nonconformance_disposition: ['decidedAt'],
  nonconformance_entry: ['at'],
  impact_assessment: ['openedAt'],
  assessment_lot: ['addedAt'],
  assessment_letter: ['signedAt'],
  assessment_entry: ['at'],
  assessment_dismissal: ['dismissedAt'],
  inspection_plan: ['setAt'],
  inspection: ['inspectedAt'],
  inspection_severity: ['at'],
  chemical: ['createdAt'],
  stock_movement: ['at'],
  standardisation: ['at'],
  instrument_calibration: ['recordedAt'],
  bath_setup: ['setAt'],
  analysis: ['enteredAt', 'reviewedAt'],
  addition: ['plannedAt'],
  bath_request: ['askedAt', 'closedAt'],
  bath_hold: ['fromAt', 'placedAt', 'releasedAt'],
};

/** Each instant goes to the last moment that began before it. */
async function moveBack(execute: SqlExecutor, moments: readonly Moment[]): Promise<void> {
  const [first] = moments;
  if (first === undefined) return;
  const told = sql`(
    select m.*, lead(m."since", 1, 'infinity') over (order by m."since") as "until",
           lead(m."auditAfter", 1, ${MAX_ID}::bigint) over (order by m."since") as "auditUntil"
      from jsonb_to_recordset(${JSON.stringify(moments)}::jsonb) as m ("since" timestamptz, "auditAfter" bigint, "at" timestamptz)
  ) as m`;
  for (const [table, columns] of Object.entries(stamped)) {
    for (const column of columns) {
      const [name, field] = [Prisma.raw(`"${table}"`), Prisma.raw(`"${column}"`)];
      await execute(sql`
        update ${name} t set ${field} = m."at" from ${told}
         where t.${field} >= ${first.since} and t.${field} >= m."since" and t.${field} < m."until"`);
    }
  }
  // The steps took their time, once they stand where they belong.
  await execute(sql`update "step_sign_off" set "tookS" = null, "shortTimeReason" = ''`);
  await execute(sql`
    update "audit_entry" a set "at" = m."at" from ${told}
     where a."id" > ${first.auditAfter}::bigint and a."id" > m."auditAfter" and a."id" <= m."auditUntil"`);
  // The trail is read by its numbers: they follow the clock, as they do where nobody tells stories.
  await execute(sql`
    update "audit_entry" a set "id" = -s."id"
      from (select "id", row_number() over (order by "at", "id") as "place" from "audit_entry") r
      join (select "id", row_number() over (order by "id") as "place" from "audit_entry") s using ("place")
     where a."id" = r."id"`);
  await execute(sql`update "audit_entry" set "id" = -"id"`);
}
const MAX_ID = '9223372036854775807';
