import type { signStep, StepSetting, Traveler } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { inSqlTransaction, type Db, type Run } from '../../db/client.ts';
import { answerOnce } from '../../http/once.ts';
import type { OnceKey } from '../../http/route.ts';
import { found, invalid, Refusal } from '../../refusal.ts';
import { record } from '../audit/index.ts';
import { personOfPin } from '../people/index.ts';
import * as queries from './queries.ts';
import { bathOf, permittingOf } from './sign-bath.ts';
import * as signing from './sign-queries.ts';

type Input = z.output<typeof signStep.body>;

const MINUTE = 60_000;
const DAY = 24 * 60 * MINUTE;

/**
 * Signs a step for good: who, when, with what readings, how many pieces in and out. A reading outside its limits
 * needs a reason and puts the lot on hold in the same transaction. Two people at once never sign one step twice:
 * the lot's row is locked first, and the step's sign-off is unique.
 */
export async function signOff(
  db: Db,
  of: { actor: Actor; stepId: number; input: Input; once: OnceKey | null },
): Promise<Traveler> {
  const { actor, stepId, input, once } = of;
  const signer = await signerOf(db, actor, input);
  const permitting = await permittingOf(db, { actor, signer, input });
  return inSqlTransaction(db, (run) =>
    answerOnce({ run, personId: actor.personId, once }, async () => {
      const step = found(await signing.lockStep(run, stepId), `step ${stepId}`);
      checkTurn(step);
      checkTime(step, input.doneAt);
      checkCounts(step, input);
      const readings = judge(step.settings, step.record, input.readings);
      const outside = readings.some((reading) => reading.outside);
      if (outside && input.reason.trim() === '')
        throw invalid('reason', 'is needed: a reading is outside its limits');
      const { standing, ...place } = await placeOf(run, step, input);
      const bath = await bathOf(run, { standing, input, permitting });
      const signOffId = await signing.addSignOff(run, {
        step,
        input,
        readings,
        outside,
        personId: signer.personId,
        bath,
        ...place,
      });
      await signing.moveLot(run, { lotId: step.lotId, last: step.isLast });
      if (step.isLast) await queries.setTravelerStatus(run, { id: step.travelerId, status: 'complete' });
      if (outside)
        await holdLot(run, {
          signer,
          lotId: step.lotId,
          lotNumber: step.lotNumber,
          signOffId,
          why: wordsOf(step, readings, input.reason),
        });
      await record(run, signer, {
        kind: 'lot',
        id: step.lotId,
        number: step.lotNumber,
        action: `signed step ${step.position}, ${step.title}, of ${step.travelerNumber} rev ${step.travelerRevision}`,
        ...(signer.personId === actor.personId
          ? {}
          : { changes: [{ field: 'station', old: null, new: actor.displayName }] }),
        reason: [input.reason, bath?.overrideReason].filter(Boolean).join('; ') || null,
      });
      return found(await queries.readTraveler(run, step.travelerId), `traveler ${step.travelerId}`);
    }),
  );
}

/** The person who signs: whoever is signed in, or somebody else who proves it with a PIN. */
async function signerOf(db: Db, actor: Actor, input: Input) {
  if (input.signer === null) return actor;
  const signer = await personOfPin(db, { ...input.signer, address: actor.address });
  if (!signer.roles.some((role) => ['operator', 'lab', 'quality', 'owner'].includes(role))) {
    throw new Refusal('not-allowed', `${signer.displayName} may not sign steps.`);
  }
  return signer;
}

function checkTurn(step: signing.StepRow): void {
  if (step.travelerStatus !== 'issued') {
    throw new Refusal(
      'not-current',
      `Traveler ${step.travelerNumber} revision ${step.travelerRevision} is ${step.travelerStatus}: only the current revision is signed.`,
    );
  }
  if (step.signedBy !== null) {
    throw new Refusal('already-signed', `Step ${step.position} was signed already by ${step.signedBy}.`);
  }
  if (step.held)
    throw new Refusal('on-hold', `Lot ${step.lotNumber} is on hold: ${step.holdReason ?? 'see the lot'}.`);
  if (step.waitsFor !== null) {
    throw new Refusal('conflict', `Step ${step.waitsFor} comes first; it is not signed yet.`);
  }
}

function checkTime(step: signing.StepRow, doneAt: string): void {
  const at = Date.parse(doneAt);
  const now = step.now.getTime();
  if (at > now + 5 * MINUTE) throw invalid('doneAt', 'lies in the future by the server’s clock');
  if (at < step.issuedAt.getTime() - 5 * MINUTE)
    throw invalid('doneAt', 'lies before this traveler was issued');
  if (at < now - 7 * DAY)
    throw invalid('doneAt', 'lies more than a week back: ask quality to enter it with a reason');
}

function checkCounts(step: signing.StepRow, { countIn, countOut, rejectCount }: Input): void {
  if (countIn !== step.expectedCount) {
    throw invalid(
      'countIn',
      `must be ${step.expectedCount}, the pieces that came from the step before; a missing piece is a reject here`,
    );
  }
  if (countOut + rejectCount !== countIn) {
    throw invalid(
      'countOut',
      `${countOut} out and ${rejectCount} rejected must make the ${countIn} that went in`,
    );
  }
}

/** Sets each reading beside the limits of the traveler; what the step asks to record must be there. */
export function judge(
  settings: StepSetting[],
  wanted: string[],
  readings: Input['readings'],
): signing.Judged[] {
  const twice = readings.findIndex(
    ({ quantity }, at) => readings.findIndex((other) => other.quantity === quantity) !== at,
  );
  if (twice >= 0) throw invalid(`readings.${twice}.quantity`, 'is given twice');
  const missing = wanted.find((quantity) => !readings.some((reading) => reading.quantity === quantity));
  if (missing !== undefined) throw invalid('readings', `${missing} must be recorded for this step`);
  return readings.map((reading) => {
    const {
      target = null,
      low = null,
      high = null,
    } = settings.find(({ quantity }) => quantity === reading.quantity) ?? {};
    return {
      ...reading,
      target,
      low,
      high,
      outside: (low !== null && reading.value < low) || (high !== null && reading.value > high),
    };
  });
}

/** Tank, bath and supply that were really used; another tank than planned must hold the same thing. */
async function placeOf(run: Run, step: signing.StepRow, input: Input) {
  const tankId = input.tankId ?? step.tankId;
  const supplyId = step.hasSupply ? (input.supplyId ?? step.supplyId) : null;
  if (tankId === null) return { tankId, supplyId, bathId: null, standing: null };
  const place = await signing.readPlace(run, { tankId, supplyId });
  if (place.contents === null) throw invalid('tankId', 'is not a tank of this shop');
  if (step.contents !== null && place.contents !== step.contents) {
    throw invalid('tankId', `holds ${place.contents}; this step needs ${step.contents}`);
  }
  if (supplyId !== null && !place.supplyServesTank)
    throw invalid('supplyId', 'is not connected to that tank');
  if (place.bathId === null && place.needsBath) {
    throw new Refusal(
      'conflict',
      `Tank ${place.code} has no bath in it: make one up, or name the tank that was really used.`,
    );
  }
  const { bathId, bathMadeUpAt: madeUpAt, bathIsJudged: isJudged } = place;
  const standing = bathId === null || madeUpAt === null ? null : { id: bathId, madeUpAt, isJudged };
  return { tankId, supplyId, bathId, standing };
}

function wordsOf(step: signing.StepRow, readings: signing.Judged[], reason: string): string {
  const what = readings
    .filter(({ outside }) => outside)
    .map(({ quantity, value, low, high }) => `${quantity} ${value} outside ${low ?? '…'} to ${high ?? '…'}`)
    .join(', ');
  return `Step ${step.position}, ${step.title}: ${what}. ${reason.trim()}`;
}

async function holdLot(
  run: Run,
  of: {
    signer: { personId: number; displayName: string; roles: readonly string[]; address: string };
    lotId: number;
    lotNumber: string;
    signOffId: number;
    why: string;
  },
): Promise<void> {
  await signing.addHold(run, {
    lotId: of.lotId,
    reason: of.why,
    signOffId: of.signOffId,
    placedById: of.signer.personId,
  });
  await record(run, of.signer, {
    kind: 'lot',
    id: of.lotId,
    number: of.lotNumber,
    action: 'put on hold',
    reason: of.why,
  });
}
