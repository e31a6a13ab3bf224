import { sql, type Db } from '../db/client.ts';
import { correctSignedReading } from '../production/travelers/index.ts';
import {
  closeAssessment,
  issueLetter,
  judgeLots,
  openAssessment,
} from '../quality/impact-assessments/index.ts';
import type { Actors } from './people.ts';

const DAY = 86_400_000;
const dayOf = (at: number) => new Date(at).toISOString().slice(0, 10);

/**
 * One impact assessment that was answered, told and closed, and a correction that calls for another. Both of this morning: a paper shows
 * the moment it was signed at, and nothing moves that back.
 */
export async function seedAssessments(db: Db, actors: Actors): Promise<void> {
  const [first, second] = await db.execute<Shipped>(sql`
    select l."id" as "lotId", l."supplyId", o."customerId", min(s."doneAt") as "from", max(s."doneAt") as "to"
      from "shipment" h
      join "lot" l on l."id" = h."lotId" and not l."held" and l."supplyId" is not null
      join "order_line" ol on ol."id" = l."orderLineId"
      join "customer_order" o on o."id" = ol."orderId"
      join "step_sign_off" s on s."lotId" = l."id"
      join "certificate" c on c."lotId" = l."id"
     group by l."id", o."customerId" order by min(h."shippedAt") desc, l."id" limit 2`);
  if (first === undefined || second === undefined) throw new Error('the demo shipped too little');
  await assess(db, actors, first);
  await correctAfterShipment(db, actors, second);
}

interface Shipped {
  lotId: number;
  supplyId: number;
  customerId: number;
  from: Date;
  to: Date;
}

async function assess(db: Db, { quentin }: Actors, shipped: Shipped): Promise<void> {
  const { id, assessed } = await openAssessment(db, {
    actor: quentin,
    input: {
      ...{ about: `supply-${shipped.supplyId}`, cause: null },
      ...{ from: dayOf(shipped.from.getTime() - DAY), to: dayOf(shipped.to.getTime() + DAY) },
      reason: 'The ammeter of the power supply read 4 % low after its shunt was changed.',
      ...{ ownerId: quentin.personId, dueOn: dayOf(Date.now() + 7 * DAY) },
    },
  });
  const about = { actor: quentin, id };
  await judgeLots(db, {
    ...about,
    input: {
      ...{ lotIds: [shipped.lotId], affected: true },
      text: 'The film may be a little thicker than ordered; the retained piece reads one shade further on.',
    },
  });
  const others = assessed.map(({ lotId }) => lotId).filter((lotId) => lotId !== shipped.lotId);
  if (others.length > 0)
    await judgeLots(db, {
      ...about,
      input: {
        ...{ lotIds: others, affected: false },
        text: 'Coloured at constant voltage: the reading of the current decides nothing.',
      },
    });
  await issueLetter(db, {
    ...about,
    input: {
      ...{ customerId: shipped.customerId, attention: 'Incoming inspection', jobTitle: 'Head of quality' },
      found:
        'A meter in our shop read 4 % low while your pieces were coloured. A retained piece of the lot reads one shade further on than the agreed sample, within its tolerance.',
      asked:
        'Please compare one piece of the lot with your sample before you use it. If it does not satisfy you, we colour the pieces again at our cost and fetch them.',
    },
  });
  await closeAssessment(db, {
    ...about,
    text: 'One lot may be affected and its customer knows. The shunt is on the list of what is checked each year.',
  });
}

/** A reading that is put right after its lot was shipped: Today offers an assessment of it. */
async function correctAfterShipment(db: Db, { quentin }: Actors, { lotId }: Shipped): Promise<void> {
  const [reading] = await db.execute<{ signOffId: number; high: number; quantity: 'voltageV' }>(sql`
    select r."signOffId", r."high", r."quantity" from "step_reading" r join "step_sign_off" s on s."id" = r."signOffId"
     where s."lotId" = ${lotId} and r."high" is not null and not r."outside" order by r."id" limit 1`);
  if (reading === undefined) throw new Error('no reading of the demo has a limit');
  await correctSignedReading(db, {
    ...{ actor: quentin, signOffId: reading.signOffId },
    input: {
      ...{ quantity: reading.quantity, newValue: Math.round(reading.high * 10.5) / 10 },
      reason: 'read off the wrong display, seen on the photo of the panel',
    },
  });
}
