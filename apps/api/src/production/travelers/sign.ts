import { may, stepQuantities, type StepQuantity, type Traveler } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { withSqlTransaction, type Db, type SqlExecutor } from '../../db/client.ts';
import { orNotFound, fieldError, DomainError } from '../../kernel/refusal.ts';
import { checkCompetence } from '../../catalog/competence/index.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { personOfPin } from '../../core/people/index.ts';
import { nameInstruments } from '../../lab/instruments/index.ts';
import { dropDrafts, useOverride } from './floor-queries.ts';
import * as queries from './queries.ts';
import { findBath, refuseUnfilled } from './sign-bath.ts';
import { checkEvidence } from './sign-evidence.ts';
import {
  checkCounts,
  checkTime,
  checkTurn,
  type DoneTime,
  evaluateReadings,
  evaluateTime,
  timeOf,
} from './sign-checks.ts';
import type { SignInput } from './sign-queries.ts';
import * as signing from './sign-queries.ts';

/**
 * Refuses to sign a step while something above this wing is still to be done on the lot.
 *
 * @example
 * await app.register(travelers, { checkColour: checkColourAtTank });
 */
export type CheckColour = (
  execute: SqlExecutor,
  step: Pick<signing.StepRow, 'lotId' | 'kind'>,
) => Promise<void>;

type Signer = Pick<Actor, 'personId' | 'displayName' | 'roles' | 'address'>;

/**
 * Signs a step for good: who, when, with what readings, how many pieces in and out. A reading outside its limits
 * needs a reason and puts the lot on hold in the same transaction. Two people at once never sign one step twice:
 * the lot's row is locked first, and the step's sign-off is unique.
 */
export async function signOff(
  db: Db,
  options: {
    actor: Actor;
    stepId: number;
    input: SignInput;
    /** What the clock of the tablet showed while it sent. */
    sentAt: Date | null;
    checkColour: CheckColour;
  },
): Promise<Traveler> {
  const { actor, stepId, input, sentAt, checkColour } = options;
  checkPerson(actor, input);
  const signer = await signerOf(db, actor, input);
  return withSqlTransaction(db, async (execute) => {
    const step = orNotFound(await signing.lockStep(execute, stepId), `step ${stepId}`);
    const time = timeOf({ doneAt: input.doneAt, sentAt, now: step.now });
    await writeSignOff(execute, { actor, signer, step, input, time, checkColour, settled: null });
    return orNotFound(await queries.readTraveler(execute, step.travelerId), `traveler ${step.travelerId}`);
  });
}

/** What was signed at a tablet by one person is never booked to the next who signs in there. */
export function checkPerson(actor: Actor, { personId }: Pick<SignInput, 'personId'>): void {
  if (personId === undefined || personId === actor.personId) return;
  throw new DomainError(
    'other-person',
    `This was signed by somebody other than ${actor.displayName}: it waits until that person is signed in.`,
    { issues: [{ path: 'personId', message: 'is not who is signed in' }] },
  );
}

/** The person who signs: whoever is signed in, or somebody else who proves it with a PIN. */
async function signerOf(db: Db, actor: Actor, input: SignInput): Promise<Signer> {
  if (input.signer === null) return actor;
  const signer = await personOfPin(db, { ...input.signer, actor, path: 'signer.pin' });
  if (!may(signer.roles, 'steps.sign')) {
    throw new DomainError('not-allowed', `${signer.displayName} may not sign steps.`);
  }
  return signer;
}

/**
 * Writes the sign-off of a locked step with all that follows from it; returns its id. `settled` is quality taking a
 * step that was done before the lot went on hold: then the hold and the age of it do not stand in the way.
 */
export async function writeSignOff(
  execute: SqlExecutor,
  options: {
    actor: Actor;
    signer: Signer;
    step: signing.StepRow;
    input: SignInput;
    time: DoneTime;
    settled: { personId: number; displayName: string; reason: string } | null;
    /** Null where quality takes the step as done. */
    checkColour: CheckColour | null;
  },
): Promise<number> {
  const { actor, signer, step, input, time, settled, checkColour } = options;
  checkTurn(step, { evenHeld: settled !== null });
  if (settled === null) checkTime(step, time);
  checkCounts(step, input);
  const readings = await nameInstruments(execute, {
    readings: evaluateReadings(step.settings, step.record, input.readings),
    readAt: time.doneAt,
  });
  const outside = readings.some((reading) => reading.outside);
  if (outside && input.reason.trim() === '')
    throw fieldError('reason', 'is needed: a reading is outside its limits');
  const shortTime = evaluateTime(step, { doneAt: time.doneAt, reason: input.shortTimeReason });
  const { standing, ...place } = await placeOf(execute, step, input);
  const stood = await findBath(execute, {
    standing,
    step,
    overrideId: input.overrideId ?? null,
    doneAt: time.doneAt,
    settled,
  });
  await checkEvidence(execute, { actor, step, settled });
  await checkCompetence(execute, {
    ...{ activity: 'sign', subjectId: step.stepId, person: signer, at: time.doneAt, settled },
  });
  await checkColour?.(execute, step);
  const signOffId = await signing.addSignOff(execute, {
    step,
    input,
    ...time,
    shortTime,
    readings,
    outside,
    personId: signer.personId,
    bath: stood?.bath ?? null,
    ...place,
  });
  if (stood?.overrideId) await useOverride(execute, { id: stood.overrideId, signOffId });
  await dropDrafts(execute, step.stepId);
  await signing.setLotStatus(execute, {
    lotId: step.lotId,
    last: step.isLast,
    rejectCount: input.rejectCount,
  });
  if (step.isLast) await queries.setTravelerStatus(execute, { id: step.travelerId, status: 'complete' });
  if (outside)
    await holdLot(execute, {
      signer,
      lotId: step.lotId,
      lotNumber: step.lotNumber,
      signOffId,
      why: wordsOf(step, readings, input.reason),
    });
  await writeAudit(execute, signer, {
    kind: 'lot',
    id: step.lotId,
    number: step.lotNumber,
    action: `signed step ${step.position}, ${step.title}, of ${step.travelerNumber} rev ${step.travelerRevision}`,
    ...(signer.personId === actor.personId
      ? {}
      : { changes: [{ field: 'station', old: null, new: actor.displayName }] }),
    reason:
      [input.reason, input.countReason, shortTime?.reason, stood?.bath.overrideReason]
        .filter(Boolean)
        .join('; ') || null,
  });
  return signOffId;
}

/** Tank, bath and supply that were really used; another tank than planned must hold the same thing. */
async function placeOf(execute: SqlExecutor, step: signing.StepRow, input: SignInput) {
  const tankId = input.tankId ?? step.tankId;
  const supplyId = step.hasSupply ? (input.supplyId ?? step.supplyId) : null;
  if (tankId === null) return { tankId, supplyId, bathId: null, standing: null };
  const place = await signing.readPlace(execute, { tankId, supplyId });
  if (place.contents === null) throw fieldError('tankId', 'is not a tank of this shop');
  if (step.contents !== null && place.contents !== step.contents) {
    throw fieldError('tankId', `holds ${place.contents}; this step needs ${step.contents}`);
  }
  if (supplyId !== null && !place.supplyServesTank)
    throw fieldError('supplyId', 'is not connected to that tank');
  if (place.bathId === null && place.needsBath) {
    throw new DomainError(
      'conflict',
      `Tank ${place.code} has no bath in it: make one up, or name the tank that was really used.`,
    );
  }
  refuseUnfilled(place);
  const { bathId, bathMadeUpAt: madeUpAt, bathIsJudged: isJudged } = place;
  const standing = bathId === null || madeUpAt === null ? null : { id: bathId, madeUpAt, isJudged };
  return { tankId, supplyId, bathId, standing };
}

/** A figure of a step with its unit; `…` where there is none. */
export const inUnitOf = (quantity: StepQuantity, figure: number | null): string =>
  figure === null ? '…' : `${figure} ${stepQuantities[quantity].unit}`.trim();

function wordsOf(
  step: signing.StepRow,
  readings: readonly signing.EvaluatedReading[],
  reason: string,
): string {
  const what = readings
    .filter(({ outside }) => outside)
    .map(({ quantity, value, low, high }) => {
      const inUnit = (figure: number | null) => inUnitOf(quantity, figure);
      return `${stepQuantities[quantity].label} ${inUnit(value)}, outside ${inUnit(low)} to ${inUnit(high)}`;
    })
    .join('; ');
  return `Step ${step.position}, ${step.title}: ${what}. ${reason.trim()}`;
}

/** Puts a lot on hold for what was signed or corrected on it. */
export async function holdLot(
  execute: SqlExecutor,
  {
    lotId,
    why,
    signOffId,
    signer,
    lotNumber,
  }: {
    signer: { personId: number; displayName: string; roles: readonly string[]; address: string };
    lotId: number;
    lotNumber: string;
    signOffId: number;
    why: string;
  },
): Promise<void> {
  await signing.addHold(execute, {
    lotId,
    reason: why,
    signOffId,
    placedById: signer.personId,
  });
  await writeAudit(execute, signer, {
    kind: 'lot',
    id: lotId,
    number: lotNumber,
    action: 'put on hold',
    reason: why,
  });
}
