import {
  AgreedColour,
  isFarOff,
  MeasuringConditions,
  PictureSpot,
  JudgedReading,
  type ColourGrade,
  type correctColourReading,
  type LotColour,
} from '@huelot/contracts';
import type { z } from 'zod';
import { writeAudit } from '../../core/audit/index.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError, fieldError, orNotFound } from '../../kernel/refusal.ts';
import { holdWords, judgeReading } from './judge.ts';
import * as queries from './queries.ts';
import { holdForColour } from './record.ts';
import { viewLotColour } from './view.ts';

/**
 * Appends a correction beside a reading: the right figures, judged by the standard and the rule of the reading, or its
 * withdrawal. A corrected figure beyond the limit holds the lot like any other; a hold ends only by its release.
 */
export function correctReading(
  db: Db,
  { actor, id, input }: { actor: Actor; id: number; input: z.output<typeof correctColourReading.body> },
): Promise<LotColour> {
  const { withdrawn, lab, confirmed, reason } = input;
  return inTransaction(db, async (tx) => {
    const { lotId } = orNotFound(await queries.readStored(tx, id), `colour reading ${id}`);
    const lot = orNotFound(await queries.readLotFacts(tx.execute, lotId, { lock: true }), `lot ${lotId}`);
    const reading = orNotFound(await queries.readStored(tx, id), `colour reading ${id}`);
    if (reading.withdrawn || (await queries.isCorrected(tx, id)))
      throw new DomainError(
        'conflict',
        'This reading was corrected by somebody else already; see the newest one.',
      );
    if (withdrawn !== (lab === null))
      throw fieldError('lab', withdrawn ? 'must be empty where the reading is withdrawn' : 'must be given');
    if (lab !== null && reading.labL === null)
      throw fieldError('lab', 'must be empty: this reading has no figures. Withdraw it and enter it again.');
    if (lab !== null && lab.L === reading.labL && lab.a === reading.labA && lab.b === reading.labB)
      throw fieldError('lab', 'is what stands there already');
    const agreed = reading.agreed === null ? null : AgreedColour.parse(reading.agreed);
    const before = reading.judged === null ? null : JudgedReading.parse(reading.judged);
    const { grade, expandedUncertainty } = reading;
    const { judged, verdict } = withdrawn
      ? { judged: null, verdict: null }
      : judgeReading({
          ...{ reading: { grade: grade as ColourGrade, expandedUncertainty, outcome: null }, lab, agreed },
          expired: reading.standardExpired,
          guardFactor: before?.guardFactor ?? 0,
        });
    if (judged !== null && isFarOff(judged) && !confirmed)
      throw fieldError(
        'confirmed',
        `must be set for dE ${judged.deltaE.toFixed(1)}: is the decimal sign right?`,
      );
    await queries.addReading(tx, {
      ...{ lotId, recipeRevisionId: reading.recipeRevisionId, colourSignOffId: reading.colourSignOffId },
      ...{ zone: reading.zone, place: reading.place, grade, lab, spectrum: null, fileName: '' },
      spot: reading.spot === null ? null : PictureSpot.parse(reading.spot),
      conditions: reading.conditions === null ? null : MeasuringConditions.parse(reading.conditions),
      ...{ instrument: reading.instrument, expandedUncertainty, agreed, judged, verdict },
      ...{ instrumentId: reading.instrumentId, instrumentOverdue: reading.instrumentOverdue },
      ...{ standardExpired: reading.standardExpired, note: reading.note },
      ...{ readById: actor.personId, secondById: null, correctsId: id, reason, withdrawn, readAt: lot.now },
    });
    const shown = (one: { L: number; a: number; b: number } | null) =>
      one === null ? null : [one.L, one.a, one.b].join(', ');
    const { labL, labA, labB } = reading;
    const old = labL === null || labA === null || labB === null ? null : { L: labL, a: labA, b: labB };
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'lot', id: lotId, number: lot.number, reason },
      action: withdrawn ? 'withdrew a colour reading' : 'corrected a colour reading',
      changes: [
        { field: ['L, a, b', reading.place].filter(Boolean).join(' of '), old: shown(old), new: shown(lab) },
      ],
    });
    const holds =
      verdict === 'hold' && agreed !== null
        ? [holdWords({ ...reading, outcome: null }, judged, { agreed, expired: reading.standardExpired })]
        : [];
    await holdForColour(tx, { actor, lot, holds });
    return viewLotColour(tx, lotId);
  });
}
