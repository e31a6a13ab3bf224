import type { NewEntry } from '@huelot/contracts';
import { keepBytes } from '../core/files/index.ts';
import { inTransaction, sql, type Db } from '../db/client.ts';
import {
  addNonconformanceEntry,
  closeNonconformance,
  disposeNonconformance,
  openNonconformance,
} from '../quality/nonconformances/index.ts';
import type { Timeline } from './backdate.ts';
import { colourPng } from './grey-png.ts';
import type { Actors } from './people.ts';

const DAY = 86_400_000;
const dayOf = (when: number) => new Date(when).toISOString().slice(0, 10);

interface Shop {
  db: Db;
  actors: Actors;
  story: Timeline;
}

/** Two nonconformances: a complaint that was followed to its cause and closed, and one opened from a hold that is still open. */
export async function seedNonconformances(shop: Shop): Promise<void> {
  await closeComplaint(shop);
  await openFromHold(shop);
  await shop.story.settle();
}

async function closeComplaint({ db, actors, story }: Shop): Promise<void> {
  const [shipment] = await db.execute<{ id: number; lotId: number; quantity: number; shippedAt: Date }>(sql`
    select "id", "lotId", "quantity", "shippedAt" from "shipment" order by "shippedAt", "id" offset 2 limit 1`);
  if (shipment === undefined) throw new Error('the demo shipped nothing');
  const start = shipment.shippedAt.getTime() + 9 * DAY;
  const { quentin, lena } = actors;
  const { id } = await story.at(start, () =>
    openNonconformance(db, {
      ...{ actor: quentin, lotId: shipment.lotId },
      input: {
        ...facts(start),
        ...{ shipmentId: shipment.id, foundAt: 'customer', foundBy: 'incoming inspection of the customer' },
        ...{
          customerReference: 'CLM-0417',
          piecesAffected: 3,
          piecesInspected: Math.min(12, shipment.quantity),
        },
        ...{ fault: 'rack-mark', place: 'next to the hole' },
        description: 'A bare ring of about 2 mm where the hook touched, on three pieces of twelve.',
        requirement: 'contact marks inside the hole only',
        ...{ measuredValue: 2.1, measuredUnit: 'mm' },
        containment: 'The two lots after it were looked at on the rack: no marks outside the hole.',
      },
    }),
  );
  const write = (days: number, input: NewEntry, actor = quentin) =>
    story.at(start + days * DAY, () => addNonconformanceEntry(db, { actor, id, input }));
  await write(1, { kind: 'cause', text: 'Hooks of the rack were bent outwards and touched the edge.' });
  const { entries } = await write(1, {
    ...{ kind: 'action', text: 'Straighten the hooks, and try each with a gauge before loading.' },
    ...{ ownerId: lena.personId, dueOn: dayOf(start + 7 * DAY) },
  });
  const actionId = entries.at(-1)?.id ?? 0;
  await story.at(start + 2 * DAY, () =>
    disposeNonconformance(db, {
      ...{ actor: quentin, id },
      input: {
        ...{ disposition: 'concession', pieces: 3, takenFrom: 'shipped', authority: 'head of quality' },
        ...{ concessionNumber: 'DEV-118', concessionBy: 'their head of purchasing' },
        reason: 'The ring is hidden once the part is mounted.',
      },
    }),
  );
  await write(
    5,
    { kind: 'action-done', text: 'Hooks straightened, gauge hangs at the rack.', actionId },
    lena,
  );
  await write(6, {
    kind: 'cost',
    text: 'two hours of sorting and talking',
    costKind: 'labour',
    amount: '96.00',
  });
  await write(6, { kind: 'cost', text: 'agreed with the customer', costKind: 'credit', amount: '45.00' });
  await write(14, {
    kind: 'effect',
    text: 'Four lots since: no mark outside the hole.',
    actionId,
    effective: true,
  });
  await story.at(start + 14 * DAY, () =>
    closeNonconformance(db, {
      actor: quentin,
      id,
      text: 'Hooks are tried with a gauge before each loading.',
    }),
  );
}

/** A plate that is blue above and turns yellow below, as a camera might see it. */
const shadedPlate = () =>
  colourPng({
    ...{ width: 160, height: 120 },
    colourAt: (x, y) => [60 + y, 80 + y * 0.75, 150 - y * 0.9 + ((x * 7) % 5)],
  });

async function openFromHold({ db, actors, story }: Shop): Promise<void> {
  const [hold] = await db.execute<{ id: number; lotId: number; reason: string; placedAt: Date }>(sql`
    select h."id", h."lotId", h."reason", h."placedAt" from "lot_hold" h where h."releasedAt" is null order by h."id" desc limit 1`);
  if (hold === undefined) throw new Error('no lot of the demo is on hold');
  const start = hold.placedAt.getTime() + 3_600_000;
  const { quentin, lena } = actors;
  const photo = await story.at(start, () =>
    inTransaction(db, (tx) =>
      keepBytes(tx.execute, { actor: quentin, name: 'shade-top-to-bottom.png', bytes: shadedPlate() }),
    ),
  );
  const { id } = await story.at(start, () =>
    openNonconformance(db, {
      ...{ actor: quentin, lotId: hold.lotId },
      input: {
        ...facts(start),
        ...{ holdId: hold.id, foundAt: 'process', foundBy: quentin.displayName, fault: 'uneven' },
        ...{ piecesAffected: 6, piecesInspected: 12, place: 'the whole face' },
        description: 'Pieces of the upper row are visibly more yellow than those of the lower row.',
        requirement: 'within dE00 3 of the agreed sample',
        ...{ measuredValue: 4.6, measuredUnit: 'dE00' },
        containment: 'The load hangs apart; nothing else goes on this rack.',
        photoIds: [photo],
      },
    }),
  );
  await story.at(start + DAY, () =>
    addNonconformanceEntry(db, {
      ...{ actor: quentin, id },
      input: {
        ...{ kind: 'action', text: 'Measure the temperature at the top and at the bottom of the tank.' },
        ...{ ownerId: lena.personId, dueOn: dayOf(Date.now() + 2 * DAY) },
      },
    }),
  );
}

/** What most have in common. */
const facts = (when: number) => ({
  ...{ holdId: null, finalCheckId: null, shipmentId: null, foundOn: dayOf(Math.min(when, Date.now())) },
  ...{ customerReference: '', place: '', photoIds: [] },
});
