import type { Lot, LotSummary, Quotation, Traveler } from '@huelot/contracts';
import type { stepQuantities } from '@huelot/contracts';
import type { z } from 'zod';
import type { Db } from '../../apps/api/src/db/client.ts';
import { check, ship } from '../../apps/api/src/domains/inspection/inspection.ts';
import { accept } from '../../apps/api/src/domains/orders/accept.ts';
import { receive } from '../../apps/api/src/domains/orders/orders.ts';
import { planLine } from '../../apps/api/src/domains/lots/plan.ts';
import { readLineFacts } from '../../apps/api/src/domains/lots/plan-queries.ts';
import { hold, unhold } from '../../apps/api/src/domains/lots/lots.ts';
import { release } from '../../apps/api/src/domains/lots/release.ts';
import { close, create, send } from '../../apps/api/src/domains/quotations/quotations.ts';
import { readCurrentTraveler } from '../../apps/api/src/domains/travelers/index.ts';
import { signOff } from '../../apps/api/src/domains/travelers/sign.ts';
import type { Actor } from '../../apps/api/src/actor.ts';
import type { Chance } from './chance.ts';
import type { Equipment } from './equipment.ts';
import type { StaffName } from './people.ts';
import { backdate, type Moment } from './backdate.ts';

/** How far a job of the history has come by today. */
export type Ending =
  | 'draft'
  | 'sent'
  | 'lapsed'
  | 'declined'
  | 'ordered'
  | 'received'
  | 'released'
  | 'running'
  | 'held'
  | 'finished'
  | 'passed'
  | 'shipped';

export interface Job {
  part: { id: number; customerId: number };
  recipeRevisionId: number;
  rackId: number;
  supplyId: number;
  quantities: number[];
  picked: number;
  daysAgo: number;
  ending: Ending;
}
export interface Shop {
  db: Db;
  actors: Record<StaffName, Actor>;
  equipment: Equipment;
  chance: Chance;
}

const HOUR = 3_600_000;
const DAY = 24 * HOUR;
const order: Ending[] = [
  'ordered',
  'received',
  'released',
  'running',
  'held',
  'finished',
  'passed',
  'shipped',
];
const reaches = (job: Job, ending: Ending) =>
  order.indexOf(job.ending) >= order.indexOf(ending) && order.includes(job.ending);
const dayOf = (at: number) => new Date(at).toISOString().slice(0, 10);

/**
 * Takes one job from its quotation as far as it came, through the same use cases that serve real people, and then moves
 * what they wrote back in time.
 */
export async function runJob(shop: Shop, job: Job): Promise<void> {
  const { db, actors, chance } = shop;
  const start = Date.now() - job.daysAgo * DAY + chance.between(-2, 3) * HOUR;
  const moments: Moment[] = [];
  const at = async <T>(when: number, doing: () => Promise<T>): Promise<T> => {
    const from = await backdate.mark(db);
    const result = await doing();
    moments.push({ ...from, at: Math.min(when, Date.now() - 60_000) });
    return result;
  };

  let quotation = await at(start, () =>
    create(db, { actor: actors.edgar, input: { customerId: job.part.customerId, ...draftFor(shop, job) } }),
  );
  if (job.ending !== 'draft') {
    quotation = await at(start + 3 * HOUR, () =>
      send(db, { actor: actors.edgar, id: quotation.id, version: quotation.version }),
    );
  }
  if (job.ending === 'declined') {
    await at(start + 6 * DAY, () =>
      close(db, {
        actor: actors.edgar,
        id: quotation.id,
        version: quotation.version,
        input: { outcome: 'declined', reason: 'went with bare metal' },
      }),
    );
  }
  if (reaches(job, 'ordered')) await runOrder({ shop, job, quotation, at, start });
  await backdate.apply(db, moments, { quotationId: quotation.id, validDays: 30 });
}

function draftFor({ equipment }: Shop, job: Job) {
  return {
    contactName: '',
    enquiryReference: '',
    validUntil: '2099-12-31',
    leadTimeDays: 10,
    taxRatePercent: 20,
    terms: 'Payment within 30 days, ex works.',
    customerNotes:
      'Surface on arrival: clean and free of oil. Colour within the agreed range; small rack marks at the agreed contact points.',
    internalNotes: '',
    rateCardId: equipment.rateCardId,
    lines: [
      {
        partId: job.part.id,
        recipeRevisionId: job.recipeRevisionId,
        rackId: job.rackId,
        supplyId: job.supplyId,
        quantities: job.quantities,
        options: {
          maskingFeatures: 0,
          masking: { timeS: 40, materialCost: 0.12 },
          labour: { setupS: 2700, rackS: 18, unrackS: 8, inspectS: 10, packS: 6 },
          inspectionLevel: 'visual 100 %',
          certificate: true,
          packing: 'paper between layers',
          packingCost: 7.5,
          expedite: false,
          validatedPieces: null,
          oneOffs: [],
        },
      },
    ],
  };
}

type At = <T>(when: number, doing: () => Promise<T>) => Promise<T>;

async function runOrder(of: {
  shop: Shop;
  job: Job;
  quotation: Quotation;
  at: At;
  start: number;
}): Promise<void> {
  const { shop, job, quotation, at, start } = of;
  const { db, actors, equipment } = shop;
  const line = quotation.shown.lines[0];
  const picked = line?.breaks[job.picked];
  if (line === undefined || picked === undefined) throw new Error('a job needs a line with a break');
  const made = await at(start + 2 * DAY, () =>
    accept(db, {
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
  await at(start + 4 * DAY, () =>
    receive(db, {
      actor: actors.petra,
      id: orderLine.id,
      version: orderLine.version,
      input: { count: picked.quantity, reason: '' },
    }),
  );
  if (!reaches(job, 'released')) return;
  const facts = await readLineFacts(db.run, orderLine.id);
  if (facts === null) throw new Error('the line was just written');
  const plan = planLine(facts, { rackId: job.rackId, supplyId: job.supplyId });
  const tanks = plan.steps.flatMap(({ position, tanks: [first] }) =>
    first === undefined ? [] : [{ position, tankId: first.id }],
  );
  const lots = await at(start + 5 * DAY, () =>
    release(db, {
      actor: actors.petra,
      lineId: orderLine.id,
      input: {
        rackId: plan.rackId,
        supplyId: plan.supplyId,
        tanks,
        loads: plan.loads,
        dueDate: dayOf(start + 16 * DAY),
        priority: 0,
      },
    }),
  );
  for (const [index, lot] of lots.entries()) {
    await runLot({
      shop,
      job,
      lot,
      at,
      start: start + 6 * DAY + index * 2 * HOUR,
      isLast: index === lots.length - 1,
      supplies: equipment.supplies,
    });
  }
}

async function runLot(of: {
  shop: Shop;
  job: Job;
  lot: z.input<typeof LotSummary>;
  at: At;
  start: number;
  isLast: boolean;
  supplies: object;
}): Promise<void> {
  const { shop, job, lot, at, start, isLast } = of;
  const { db, actors, chance } = shop;
  if (!reaches(job, 'running')) return;
  // The lots of one line come along together; only the last of a job in work is caught half-way.
  const caught = isLast && (job.ending === 'running' || job.ending === 'held');
  let traveler = await readCurrentTraveler(db.run, lot.id);
  if (traveler === null) throw new Error(`lot ${lot.number} has no traveler`);
  const until = caught ? Math.ceil(traveler.steps.length / 2) : traveler.steps.length;
  let when = start;
  let pieces = traveler.quantity;
  for (const step of traveler.steps.slice(0, until)) {
    when += (step.durationS + step.dripS) * 1000 + chance.between(1, 4) * 60_000;
    const rejected = chance.happens(0.015) && pieces > 4 ? 1 : 0;
    const readings = step.record.map((quantity) => ({
      quantity,
      value: readingFor(chance, step, quantity),
      instrument: '',
    }));
    const operator = chance.one([actors.omar, actors.omar, actors.ines]);
    traveler = await at(when, () =>
      signOff(db, {
        actor: operator,
        stepId: step.id,
        once: null,
        input: {
          doneAt: new Date().toISOString(),
          countIn: pieces,
          countOut: pieces - rejected,
          rejectCount: rejected,
          readings,
          note: '',
          tankId: null,
          supplyId: null,
          signer: null,
          reason: 'read twice, supply drifts when warm',
        },
      }),
    );
    pieces -= rejected;
    if (traveler.lot.held) {
      await at(when + 40 * 60_000, () =>
        unhold(db, {
          actor: actors.quentin,
          id: lot.id,
          input: { reason: 'coupon compared with the agreed sample: within ΔE00 2' },
        }),
      );
    }
  }
  if (caught) {
    if (job.ending === 'held')
      await at(when + 20 * 60_000, () =>
        hold(db, {
          actor: actors.quentin,
          id: lot.id,
          once: null,
          input: { reason: 'shade differs between the top and the bottom of the rack' },
        }),
      );
    return;
  }
  if (job.ending === 'finished' && isLast) return;
  const checked = await at(when + 2 * HOUR, () =>
    check(db, {
      actor: actors.quentin,
      id: lot.id,
      once: null,
      input: { acceptedCount: pieces, rejectedCount: 0, reworkCount: 0, reason: '', notes: '' },
    }),
  );
  if (reaches(job, 'shipped')) await at(when + 26 * HOUR, () => shipAll(shop, checked));
}

const shipAll = ({ db, actors }: Shop, lot: Lot) =>
  ship(db, {
    actor: actors.petra,
    id: lot.id,
    once: null,
    input: { quantity: lot.acceptedCount, carrier: 'own van', document: `D-${lot.id}`, notes: '' },
  });

/** What the gauge showed: close to the target, now and then outside the limits. */
function readingFor(
  chance: Chance,
  step: Traveler['steps'][number],
  quantity: keyof typeof stepQuantities,
): number {
  const setting = step.settings.find((one) => one.quantity === quantity);
  if (setting?.target != null && setting.high !== null) {
    const halfWidth = setting.high - setting.target;
    const value = chance.happens(0.012)
      ? setting.target + 1.5 * halfWidth
      : chance.near(setting.target, halfWidth);
    return Number(value.toFixed(quantity === 'durationS' ? 0 : 2));
  }
  return Number(chance.near(step.load?.peakCurrentA ?? 1, (step.load?.peakCurrentA ?? 1) * 0.1).toFixed(1));
}
