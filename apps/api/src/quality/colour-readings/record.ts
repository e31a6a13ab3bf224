import {
  agreedIn,
  conditionFault,
  spectralIlluminants,
  viewedAs,
  isFarOff,
  may,
  type addColourReadings,
  type AgreedColour,
  type LotColour,
  type NewColourReading,
} from '@huelot/contracts';
import type { z } from 'zod';
import { writeAudit } from '../../core/audit/index.ts';
import { personOfPin } from '../../core/people/index.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { addHold } from '../../production/travelers/index.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError, fieldError, orNotFound } from '../../kernel/refusal.ts';
import { readAgreedOfLot, type AgreedOfLot } from './agreed.ts';
import { instrumentOf } from './instrument.ts';
import { holdWords, judgeReading, labOfReading } from './judge.ts';
import * as queries from './queries.ts';
import { viewLotColour } from './view.ts';

type Input = z.output<typeof addColourReadings.body>;

/**
 * Records readings of a lot, all or none, each judged against the standard in force for its part. One beyond the limit
 * puts the lot on hold in the same transaction, with the figures as the reason, and so does one by a standard that has run out.
 */
export async function recordReadings(
  db: Db,
  options: { actor: Actor; lotId: number; input: Input },
): Promise<LotColour> {
  const secondId = await secondOf(db, options.actor, options.input);
  return writeReadings(db, { ...options, secondId });
}

/** Records readings whose second person is known already. */
export function writeReadings(
  db: Db,
  options: {
    actor: Actor;
    lotId: number;
    input: Pick<Input, 'readings' | 'fileName'>;
    secondId: number | null;
    /** The day it counts as read on, where that is told later: `2026-11-30`. */
    readOn?: string;
  },
): Promise<LotColour> {
  const { actor, lotId, input, secondId, readOn } = options;
  return inTransaction(db, async (tx) => {
    const lot = orNotFound(await queries.readLotFacts(tx.execute, lotId, { lock: true }), `lot ${lotId}`);
    checkLot(lot);
    const agreedOfLot = await readAgreedOfLot(tx.execute, lotId, { on: readOn });
    const { guardFactor } = await queries.readRule(tx);
    const pictures = await queries.readPictures(tx.execute, lot.partId);
    const holds: string[] = [];
    const verdicts: string[] = [];
    for (const [index, reading] of input.readings.entries()) {
      const path = `readings.${index}`;
      const agreed = agreedAt(agreedOfLot, reading.zone, `${path}.zone`);
      const expired = agreed?.expired ?? false;
      const conditions = conditionsOf(reading, agreed, path);
      const lab = labOfReading(reading, conditions);
      if (lab === undefined)
        throw fieldError(
          `${path}.spectrum`,
          `can be integrated under ${spectralIlluminants.join(', ')}, and not under ${conditions?.illuminant}: give L, a and b as the instrument shows them under it`,
        );
      if (reading.spot !== null && !pictures.some(({ fileId }) => fileId === reading.spot?.fileId))
        throw fieldError(`${path}.spot.fileId`, 'is not a picture of this part');
      const { judged, verdict } = judgeReading({ reading, lab, agreed, expired, guardFactor });
      if (judged !== null && isFarOff(judged) && !reading.confirmed)
        throw fieldError(
          `${path}.confirmed`,
          `must be set for a colour this far off: dE ${judged.deltaE.toFixed(1)} from what was agreed. Is it lot ${lot.number}, and is the decimal sign right?`,
        );
      await queries.addReading(tx, {
        ...{ lotId, recipeRevisionId: lot.recipeRevisionId, colourSignOffId: lot.colourStep?.id ?? null },
        ...{ zone: reading.zone.trim(), place: reading.place.trim(), spot: reading.spot },
        ...{ grade: reading.grade, lab, spectrum: reading.spectrum, conditions },
        ...(await instrumentOf(tx.execute, reading, `${path}.instrumentId`)),
        expandedUncertainty: reading.expandedUncertainty,
        ...{ agreed, judged, verdict, standardExpired: expired },
        ...{ fileName: input.fileName.trim(), note: reading.note.trim() },
        ...{ readById: actor.personId, secondById: reading.grade === 'compared' ? secondId : null },
        ...{ correctsId: null, reason: '', withdrawn: false, readAt: lot.now },
      });
      verdicts.push(verdict ?? 'not judged');
      if (verdict === 'hold' && agreed !== null) holds.push(holdWords(reading, judged, { agreed, expired }));
    }
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'lot', id: lotId, number: lot.number },
      action: `recorded ${input.readings.length} colour ${input.readings.length === 1 ? 'reading' : 'readings'}: ${verdicts.join(', ').slice(0, 200)}`,
    });
    await holdForColour(tx, { actor, lot, holds });
    return viewLotColour(tx, lotId);
  });
}

/** What a reading is judged by; a zone that the part does not have is refused. */
function agreedAt(agreedOfLot: AgreedOfLot, zone: string, path: string): LotColour['agreed'] {
  const agreed = agreedIn(agreedOfLot, zone);
  if (agreed !== undefined) return agreed;
  const names = agreedOfLot.zones.map(({ name }) => name).join(' or ');
  throw fieldError(path, `must be ${names}, or empty for the rest of the piece`);
}

/** Who compared beside the actor, proved by a PIN. */
async function secondOf(db: Db, actor: Actor, { readings, second }: Input): Promise<number | null> {
  if (!readings.some(({ grade }) => grade === 'compared')) {
    if (second !== null) throw fieldError('second', 'is only for what two people compared');
    return null;
  }
  if (second === null) throw fieldError('second', 'must name the second person who compared');
  if (second.personId === actor.personId)
    throw fieldError('second.personId', 'must be somebody else: two people compare');
  const person = await personOfPin(db, { ...second, actor, path: 'second.pin' });
  if (!may(person.roles, 'steps.sign'))
    throw new DomainError('not-allowed', `${person.displayName} may not judge colours.`);
  return person.personId;
}

/** A lot that has no colour yet is most likely not the one in somebody's hands. */
function checkLot(lot: queries.LotFacts): void {
  if (lot.status === 'cancelled') throw new DomainError('conflict', `Lot ${lot.number} is cancelled.`);
  const coloured = lot.hasColourStep ? lot.colourStep !== null : lot.signedSteps > 0;
  if (!coloured)
    throw new DomainError(
      'conflict',
      `Lot ${lot.number} has no colour to read yet: its colour step is not signed. Is it this lot?`,
    );
}

/** What the figures of a reading mean anything under; others than those of the standard are refused, never compared. */
function conditionsOf(
  { grade, conditions, spectrum }: NewColourReading,
  agreed: AgreedColour | null,
  path: string,
): NewColourReading['conditions'] {
  if (conditions === null) return null;
  const wanted = agreed?.conditions ?? null;
  const viewed = spectrum === null ? conditions : viewedAs(conditions, wanted);
  const fault = grade === 'measured' ? conditionFault(viewed, wanted) : null;
  if (fault !== null) throw fieldError(`${path}.conditions.${fault.path}`, fault.message);
  return viewed;
}

/** Puts a lot on hold, once for all that was found together. What was shipped cannot be held any more. */
export async function holdForColour(
  tx: Tx,
  { actor, lot, holds }: { actor: Actor; lot: queries.LotFacts; holds: readonly string[] },
): Promise<void> {
  if (holds.length === 0 || lot.status === 'shipped') return;
  const reason =
    holds.length > 3 ? `${holds.slice(0, 3).join(' ')} And ${holds.length - 3} more.` : holds.join(' ');
  await addHold(tx.execute, { lotId: lot.id, reason, signOffId: null, placedById: actor.personId });
  await writeAudit(tx.execute, actor, {
    ...{ kind: 'lot', id: lot.id, number: lot.number, action: 'put on hold', reason },
  });
}
