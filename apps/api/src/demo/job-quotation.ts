import * as contract from '@huelot/contracts';
import { inTransaction } from '../db/client.ts';
import { closeQuotation, freezeRevision, createQuotation } from '../sales/quotations/index.ts';
import { wordFor } from './job-evidence.ts';
import { DAY, HOUR, reaches, type Job, type Shop } from './job.ts';
import { runOrder } from './job-order.ts';

/** Takes one job from its quotation as far as it came. */
export async function runJob(shop: Shop, job: Job): Promise<void> {
  const { db, actors, chance, story } = shop;
  // In the morning of that day, so that what follows from it falls into working hours.
  const day = Math.floor((Date.now() - job.daysAgo * DAY) / DAY) * DAY;
  const start = day + chance.between(6, 9) * HOUR;
  const input = contract.createQuotation.body.parse(draftFor(shop, job));
  let quotation = await story.at(start, () => createQuotation(db, { actor: actors.edgar, input }));
  if (job.ending !== 'draft') {
    const { id, version } = quotation;
    // No paper: it would name today, not the day of the story. The first download draws it.
    const reason = 'grade 2 takes the blue; the customer knows that the first lot of this alloy decides';
    const on = { actor: actors.edgar, id, version, word: await wordFor(shop, { job, reason }) };
    quotation = await story.at(start + 3 * HOUR, () => inTransaction(db, (tx) => freezeRevision(tx, on)));
  }
  if (job.ending === 'declined') {
    const { id, version } = quotation;
    const booked = { outcome: 'declined', reason: 'went with bare metal' } as const;
    await story.at(start + 6 * DAY, () =>
      closeQuotation(db, { actor: actors.edgar, id, version, input: booked }),
    );
  }
  if (reaches(job, 'ordered')) await runOrder({ shop, job, quotation, start });
}

function draftFor({ equipment }: Shop, job: Job) {
  return {
    customerId: job.part.customerId,
    enquiryId: job.enquiryId,
    exchangeRateId: job.exchangeRateId ?? null,
    contactName: '',
    enquiryReference: '',
    validUntil: '2099-12-31',
    leadTimeDays: 10,
    taxRatePercent: 20,
    terms: 'Payment within 30 days, ex works.',
    customerNotes:
      'Surface on arrival: clean and free of oil. Small rack marks at the agreed contact points.',
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
