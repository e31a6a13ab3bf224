import { shortTime } from '@huelot/calc';
import type { signStep, StepSetting } from '@huelot/contracts';
import type { z } from 'zod';
import { fieldError, DomainError } from '../../kernel/refusal.ts';
import type { EvaluatedReading, StepRow } from './sign-queries.ts';

type Input = z.output<typeof signStep.body>;

const MINUTE = 60_000;
const DAY = 24 * 60 * MINUTE;
/** What an answer may be under way; below it clocks agree. */
const CLOCKS_AGREE_S = 5;

export function checkTurn(step: StepRow, { evenHeld = false } = {}): void {
  if (step.travelerStatus !== 'issued') {
    throw new DomainError(
      'not-current',
      `Traveler ${step.travelerNumber} revision ${step.travelerRevision} is ${step.travelerStatus}: only the current revision is signed.`,
    );
  }
  if (step.signedBy !== null) {
    throw new DomainError('already-signed', `Step ${step.position} was signed already by ${step.signedBy}.`);
  }
  if (step.held && !evenHeld)
    throw new DomainError(
      'on-hold',
      `Lot ${step.lotNumber} is on hold: ${step.holdReason ?? 'see the lot'}.`,
    );
  if (step.waitsFor !== null) {
    throw new DomainError('conflict', `Step ${step.waitsFor} comes first; it is not signed yet.`);
  }
}

/** When a step was done by the clock of the server. */
export interface DoneTime {
  doneAt: Date;
  /** By how much the clock of the tablet was fast (+) or slow (−). */
  clockDifferenceS: number;
}

/** The clock of the server decides: the time of a tablet is put right by what its clock showed while it sent. */
export function timeOf({
  doneAt,
  sentAt,
  now,
}: {
  doneAt: string;
  sentAt: Date | null;
  now: Date;
}): DoneTime {
  const difference = sentAt === null ? 0 : Math.round((sentAt.getTime() - now.getTime()) / 1000);
  const clockDifferenceS = Math.abs(difference) < CLOCKS_AGREE_S ? 0 : difference;
  const at = Date.parse(doneAt) - clockDifferenceS * 1000;
  const justAhead = at > now.getTime() && at <= now.getTime() + 5 * MINUTE;
  return { doneAt: justAhead ? now : new Date(at), clockDifferenceS };
}

export function checkTime(step: StepRow, { doneAt }: DoneTime): void {
  const at = doneAt.getTime();
  const now = step.now.getTime();
  if (at > now) throw fieldError('doneAt', 'is in the future by the server’s clock');
  if (at < step.issuedAt.getTime() - 5 * MINUTE)
    throw fieldError('doneAt', 'is before this traveler was issued');
  if (at < now - 7 * DAY)
    throw fieldError('doneAt', 'is more than a week ago: ask quality to enter it with a reason');
}

export function checkCounts(step: StepRow, input: Input): void {
  const { countIn, countOut, rejectCount, countDifference, countReason } = input;
  if (countIn !== step.expectedCount) {
    throw fieldError('countIn', `must be ${step.expectedCount}, the pieces that came from the previous step`);
  }
  if (countOut + rejectCount !== countIn + countDifference) {
    throw fieldError(
      'countOut',
      countDifference === 0
        ? `${countOut} out and ${rejectCount} rejected must make the ${countIn} that went in`
        : `${countOut} out and ${rejectCount} rejected must make the ${countIn + countDifference} that were found`,
    );
  }
  if (countOut + rejectCount > step.travelerCount) {
    throw fieldError(
      'countDifference',
      `makes ${countOut + rejectCount} pieces; the traveler is for ${step.travelerCount}: ask the planner to correct the count of the lot`,
    );
  }
  if ((rejectCount > 0 || countDifference !== 0) && countReason.trim() === '') {
    throw fieldError(
      'countReason',
      'is needed: say what happened to the pieces that are rejected, missing or too many',
    );
  }
}

/** Sets each reading beside the limits of the traveler; what the step asks to record must be there. */
export function evaluateReadings(
  settings: StepSetting[],
  wanted: string[],
  readings: Input['readings'],
): EvaluatedReading[] {
  const twice = readings.findIndex(
    ({ quantity }, index) => readings.findIndex((other) => other.quantity === quantity) !== index,
  );
  if (twice >= 0) throw fieldError(`readings.${twice}.quantity`, 'is given twice');
  const missing = wanted.find((quantity) => !readings.some((reading) => reading.quantity === quantity));
  if (missing !== undefined) throw fieldError('readings', `${missing} must be recorded for this step`);
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

/** A step that is signed faster than it takes needs an answer, which is kept. */
export function evaluateTime(
  step: StepRow,
  { doneAt, reason }: { doneAt: Date; reason: string },
): { tookS: number; reason: string } | null {
  const [from, to] = step.inAt === null ? [step.previousDoneAt, doneAt] : [step.inAt, step.outAt ?? doneAt];
  const tookS = Math.max(0, Math.floor((to.getTime() - from.getTime()) / 1000));
  const lowS = step.settings.find(({ quantity }) => quantity === 'durationS')?.low ?? null;
  if (shortTime({ plannedS: step.durationS, lowS, tookS }) === null) return null;
  if (reason.trim() === '') {
    throw fieldError(
      'shortTimeReason',
      `is needed: the step is planned for ${inWords(step.durationS)}, and it took ${inWords(tookS)} at most`,
    );
  }
  return { tookS, reason: reason.trim() };
}

const inWords = (seconds: number) =>
  seconds < 120
    ? `${seconds} s`
    : `${Math.floor(seconds / 60)} min${seconds % 60 ? ` ${seconds % 60} s` : ''}`;
