import {
  changeBillingDetails,
  creditInvoice,
  draftInvoice,
  issueInvoice,
  readInvoice,
  recordPayment,
} from '../billing/invoices/index.ts';
import { sql, type Db } from '../db/client.ts';
import type { Timeline } from './backdate.ts';
import { DAY } from './job.ts';
import type { Actors } from './people.ts';

const PAYMENT_DAYS = 30;
/** The newest delivery is not invoiced yet; the one before it is drafted. */
const WAITING = 1;
const DRAFTED = 1;
/** Which of the invoices is credited in part. */
const CREDITED = 3;
/** Of so many invoices whose day has passed one is not paid, and one in part. */
const CYCLE = 9;

interface Shop {
  db: Db;
  actors: Actors;
  story: Timeline;
}

/** Invoices of what the delivery notes took: most paid, some overdue, one paid in part, one credited in part. */
export async function seedInvoices({ db, actors, story }: Shop): Promise<void> {
  const { version } = await db.prisma.shop.findUniqueOrThrow({ where: { id: 1 } });
  await changeBillingDetails(db, {
    ...{ actor: actors.olive, version },
    input: {
      // The example of an account that ISO 13616 gives for the country.
      ...{ country: 'AT', taxNumber: 'ATU12345675', iban: 'AT611904300234573201', bic: '' },
      paymentDays: PAYMENT_DAYS,
    },
  });
  const deliveries = await readDeliveries(db);
  const told = deliveries.slice(0, deliveries.length - WAITING);
  for (const [index, { shipmentIds, shippedAt }] of told.entries()) {
    const at = new Date(Math.min(shippedAt.getTime() + DAY, Date.now() - DAY / 24));
    const input = { shipmentIds, prices: [], paymentDays: PAYMENT_DAYS, notes: '' };
    const actor = actors.edgar;
    const draft = await story.at(at.getTime(), () => draftInvoice(db, { actor, input }));
    if (index >= told.length - DRAFTED) continue;
    const { id, version: seen } = draft;
    await story.at(at.getTime(), () => issueInvoice(db, { actor, id, version: seen, at }));
    if (index === CREDITED) await creditSome({ db, actors, story }, { id, at });
    await payInTime({ db, actors, story }, { id, index, at });
  }
  await story.settle();
}

async function creditSome({ db, actors, story }: Shop, { id, at }: { id: number; at: Date }): Promise<void> {
  const { left } = await readInvoice(db, id);
  const lines = left.slice(0, 1).map(({ lineId }) => ({ lineId, quantity: 2 }));
  const later = new Date(at.getTime() + 4 * DAY);
  const input = { lines, reason: 'two pieces with marks of the rack, agreed by telephone', frees: false };
  await story.at(later.getTime(), () => creditInvoice(db, { actor: actors.edgar, id, input, at: later }));
}

async function payInTime(
  { db, actors, story }: Shop,
  { id, index, at }: { id: number; index: number; at: Date },
): Promise<void> {
  const paidAt = at.getTime() + (PAYMENT_DAYS - 6 - (index % 4)) * DAY;
  const turn = index % CYCLE;
  if (paidAt > Date.now() - DAY || turn === CYCLE - 1) return;
  const { open } = await readInvoice(db, id);
  const input = {
    amount: turn === CYCLE - 2 ? (Number(open) / 2).toFixed(2) : open,
    paidOn: new Date(paidAt).toISOString().slice(0, 10),
    ...{ reference: `transfer ${4100 + index}`, moreThanOpen: false },
  };
  await story.at(paidAt, () => recordPayment(db, { actor: actors.edgar, id, input }));
}

const readDeliveries = (db: Db) =>
  db.execute<{ shipmentIds: number[]; shippedAt: Date }>(sql`
    select array_agg(s."id" order by s."id") as "shipmentIds", max(s."shippedAt") as "shippedAt"
      from "delivery_note" n join "delivery_line" d on d."noteId" = n."id" join "shipment" s on s."id" = d."shipmentId"
     where n."withdrawnAt" is null group by n."id" order by max(s."shippedAt"), n."id"`);
