import type { Quotation } from '@huelot/contracts';
import { inTransaction } from '../db/client.ts';
import { planLine, readLineFacts, releaseLoads } from '../production/lots/index.ts';
import { acceptQuotation, recordReceipt } from '../sales/orders/index.ts';
import { DAY, HOUR, reaches, type Job, type Shop } from './job.ts';
import { wordFor } from './job-evidence.ts';
import { runLot } from './job-lot.ts';

/** Takes the accepted job from its order to its lots. */
export async function runOrder({
  shop,
  job,
  quotation,
  start,
}: {
  shop: Shop;
  job: Job;
  quotation: Quotation;
  start: number;
}): Promise<void> {
  const { db, actors, story } = shop;
  const line = quotation.shown.lines[0];
  const picked = line?.breaks[job.picked];
  if (line === undefined || picked === undefined) throw new Error('a job needs a line with a break');
  const made = await story.at(start + 2 * DAY, () =>
    acceptQuotation(db, {
      actor: actors.petra,
      quotationId: quotation.id,
      input: {
        customerOrderNumber: `PO ${4100 + quotation.id}`,
        dueDate: dayOf(start + 16 * DAY),
        lines: [{ lineId: line.id, breakId: picked.id }],
      },
    }),
  );
  const orderLine = made.lines[0];
  if (orderLine === undefined || !reaches(job, 'received')) return;
  await story.at(start + 4 * DAY, () =>
    recordReceipt(db, {
      actor: actors.petra,
      id: orderLine.id,
      version: orderLine.version,
      input: { count: picked.quantity, reason: '' },
    }),
  );
  if (!reaches(job, 'released')) return;
  const facts = await readLineFacts(db.execute, orderLine.id);
  if (facts === null) throw new Error('the line was just written');
  const plan = planLine(facts, { rackId: job.rackId, supplyId: job.supplyId });
  const tanks = plan.steps.flatMap(({ position, title, tanks }) => {
    // There are two rinses: the first on the line follows the cleaner, the other is the last before drying.
    const tank = title === 'Final rinse' ? tanks.at(-1) : tanks[0];
    return tank === undefined ? [] : [{ position, tankId: tank.id }];
  });
  const word = await wordFor(shop, {
    job,
    reason: 'first article: one load first, looked at before the rest',
  });
  const lots = await story.at(start + 5 * DAY, () =>
    inTransaction(db, (tx) =>
      releaseLoads(tx, {
        actor: actors.petra,
        lineId: orderLine.id,
        word,
        input: {
          rackId: plan.rackId,
          supplyId: plan.supplyId,
          tanks,
          loads: plan.loads,
          dueDate: dayOf(start + 16 * DAY),
          priority: 0,
        },
      }),
    ),
  );
  for (const [index, lot] of lots.entries()) {
    await runLot({
      shop,
      job,
      lot,
      start: start + 6 * DAY + index * 2 * HOUR,
      isLast: index === lots.length - 1,
    });
  }
}

const dayOf = (index: number) => new Date(index).toISOString().slice(0, 10);
