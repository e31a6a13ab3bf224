import type { Lot, LotSummary, StepQuantity, TravelerStep } from '@huelot/contracts';
import type { z } from 'zod';
import { checkColourAtTank } from '../quality/colour-readings/index.ts';
import { finalCheck, makeFirstArticle, shipLots } from '../quality/inspection/index.ts';
import { placeLotHold, releaseLotHold } from '../production/lots/index.ts';
import { allowUnproved, readCurrentTraveler, signOff } from '../production/travelers/index.ts';
import { readColour } from './lot-colour.ts';
import type { Random } from './chance.ts';
import { inspect } from './inspections.ts';
import { HOUR, reaches, type Job, type Shop } from './job.ts';

/** Takes one lot down the line, step by step, as far as its job came. */
export async function runLot({
  shop,
  job,
  lot,
  start,
  isLast,
}: {
  shop: Shop;
  job: Job;
  lot: z.input<typeof LotSummary>;
  start: number;
  isLast: boolean;
}): Promise<void> {
  const { db, actors, chance, story } = shop;
  if (!reaches(job, 'running')) return;
  // The lots of one line come along together; only the last of a job in work is caught half-way.
  const caught = isLast && (job.ending === 'running' || job.ending === 'held');
  let traveler = await readCurrentTraveler(db.execute, lot.id);
  if (traveler === null) throw new Error(`lot ${lot.number} has no traveler`);
  const until = caught ? Math.ceil(traveler.steps.length / 2) : traveler.steps.length;
  let when = start;
  let pieces = traveler.quantity;
  const unproved = traveler.steps.some(isUnproved);
  for (const step of traveler.steps.slice(0, until)) {
    when += (step.durationS + step.dripS) * 1000 + chance.between(1, 4) * 60_000;
    const rejected = chance.happens(0.015) && pieces > 4 ? 1 : 0;
    const readings = step.record.map((quantity) => ({
      quantity,
      value: readingFor(chance, step, quantity),
      instrument: '',
      instrumentId: step.instruments.find((one) => one.quantity === quantity)?.id ?? null,
    }));
    const outside = readings.some(({ quantity, value }) => isOutside(step, quantity, value));
    if (isUnproved(step))
      await story.at(when, () =>
        allowUnproved(db, {
          actor: actors.quentin,
          stepId: step.id,
          input: { reason: 'first article: looked at before anything else is coloured', by: null },
        }),
      );
    const operator = chance.one([actors.omar, actors.omar, actors.ines]);
    traveler = await story.at(when, () =>
      signOff(db, {
        actor: operator,
        stepId: step.id,
        sentAt: null,
        checkColour: checkColourAtTank,
        input: {
          doneAt: new Date().toISOString(),
          countIn: pieces,
          countOut: pieces - rejected,
          rejectCount: rejected,
          countDifference: 0,
          countReason: rejected > 0 ? 'a piece fell off its hook' : '',
          // Told at once and moved back in time afterwards, when this goes too.
          shortTimeReason: 'told at once',
          readings,
          note: '',
          tankId: null,
          supplyId: null,
          signer: null,
          reason: outside ? 'read twice, supply drifts when warm' : '',
        },
      }),
    );
    pieces -= rejected;
    if (traveler.lot.held) {
      when += 40 * 60_000;
      await story.at(when, () =>
        releaseLotHold(db, {
          actor: actors.quentin,
          id: lot.id,
          input: { reason: 'coupon compared with the agreed sample: within ΔE00 2' },
        }),
      );
    }
  }
  if (caught) {
    if (job.ending === 'held')
      await story.at(when + 20 * 60_000, () =>
        placeLotHold(db, {
          actor: actors.quentin,
          id: lot.id,
          input: { reason: 'shade differs between the top and the bottom of the rack' },
        }),
      );
    return;
  }
  await readColour(shop, { job, lotId: lot.id, when: when + HOUR });
  if (job.ending === 'finished' && isLast) return;
  const rejectedCount = await inspect(shop, { lotId: lot.id, when: when + 1.2 * HOUR });
  const checked = await story.at(when + 2 * HOUR, () =>
    finalCheck(db, {
      actor: actors.quentin,
      id: lot.id,
      input: {
        ...{ acceptedCount: pieces - rejectedCount, rejectedCount, reworkCount: 0, notes: '' },
        reason: rejectedCount > 0 ? 'colour came off on the cloth' : '',
      },
    }),
  );
  if (unproved)
    await story.at(when + 3 * HOUR, () =>
      makeFirstArticle(db, {
        actor: actors.quentin,
        id: lot.id,
        input: {
          ...{ kind: 'first-article', grade: 'compared', lab: null, instrumentId: null, expiresOn: null },
          comparerIds: [actors.quentin.personId, actors.lena.personId],
          note: 'laid beside the agreed sample in daylight: the same blue',
        },
      }),
    );
  if (reaches(job, 'shipped')) await story.at(when + 26 * HOUR, () => shipAll(shop, checked));
}

const isUnproved = ({ evidence }: TravelerStep) => evidence !== null && evidence.verdict.state !== 'proved';

const shipAll = ({ db, actors }: Shop, lot: Lot) =>
  shipLots(db, {
    actor: actors.petra,
    id: lot.id,
    input: { quantity: lot.acceptedCount, carrier: 'own van', document: `D-${lot.id}`, notes: '' },
  });

/** What the gauge showed: close to the target, now and then outside the limits. */
function readingFor(chance: Random, step: TravelerStep, quantity: StepQuantity): number {
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

function isOutside(step: TravelerStep, quantity: StepQuantity, value: number): boolean {
  const { low = null, high = null } = step.settings.find((one) => one.quantity === quantity) ?? {};
  return (low !== null && value < low) || (high !== null && value > high);
}
