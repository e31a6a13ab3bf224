import type { TrialReading, TrialRun } from '@huelot/contracts';
import { isTrialDriven } from '@huelot/contracts';
import { writeAudit } from '../../core/audit/index.ts';
import { inTransaction, type Db, type SqlExecutor } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError, fieldError, orNotFound } from '../../kernel/refusal.ts';
import { refuseUnfilled, stateWords } from '../travelers/index.ts';
import { clockOf, type TrialClock } from './pieces.ts';
import * as queries from './queries.ts';
import { readTrialRun, standingOf } from './view.ts';

/** A run that is neither signed nor withdrawn, locked. */
export async function assertOpen(execute: SqlExecutor, id: number): Promise<queries.RunRow> {
  await queries.lockRun(execute, id);
  const run = orNotFound(await queries.readRun(execute, id), `trial run ${id}`);
  if (run.state === 'signed')
    throw new DomainError('already-signed', `${run.number} was signed already by ${run.signedBy ?? ''}.`);
  if (run.state === 'withdrawn')
    throw new DomainError('immutable', `${run.number} was withdrawn by ${run.withdrawnBy ?? ''}.`);
  return run;
}

interface Stamping {
  actor: Actor;
  id: number;
  agoS: number;
}
type Stamp = Omit<Parameters<typeof queries.addEvent>[1], 'runId' | 'personId' | 'agoS'>;

/** One stamp at the tank, with its entry in the history; `work` says which, and refuses what makes no sense. */
function stamped(
  db: Db,
  { actor, id, agoS }: Stamping,
  work: (facts: {
    execute: SqlExecutor;
    run: queries.RunRow;
    clock: TrialClock;
  }) => Promise<{ event: Stamp; action: string; reason?: string }>,
): Promise<TrialRun> {
  return inTransaction(db, async ({ execute }) => {
    const run = await assertOpen(execute, id);
    const clock = clockOf(await queries.readEvents(execute, id));
    const { event, action, reason = null } = await work({ execute, run, clock });
    await queries.addEvent(execute, { ...event, runId: id, personId: actor.personId, agoS });
    await queries.bumpRun(execute, id);
    await writeAudit(execute, actor, { kind: 'trial-run', id, number: run.number, action, reason });
    return readTrialRun(execute, id);
  });
}

const refused = (words: string) => new DomainError('conflict', words);
/** A run that is in the bath. */
function checkIn({ run, clock }: { run: queries.RunRow; clock: TrialClock }): void {
  if (clock.in === null) throw refused(`${run.number} was not stamped in.`);
  if (clock.out !== null) throw refused(`${run.number} is out already.`);
}
const openPause = ({ pauses }: TrialClock) => pauses.find(({ to }) => to === null);

/**
 * Stamps that the coupons went in. The bath must be the one that was planned for, filled, usable or overridden, and analysed
 * since it was changed: its concentration is that of the trial.
 */
export const takeTrialIn = (db: Db, options: Stamping): Promise<TrialRun> =>
  stamped(db, options, async ({ execute, run, clock }) => {
    if (clock.in !== null) throw refused(`${run.number} is in already; reset its clock first.`);
    const { place, bath, status, strength, obstacle } = await standingOf(execute, run);
    refuseUnfilled(place);
    if (bath === null || strength === null)
      throw refused(obstacleWords[obstacle ?? 'no-bath']({ tank: run.tank.code, component: run.component }));
    if (status?.needsOverride) {
      const events = await queries.readEvents(execute, run.id);
      const override = events.findLast(({ kind }) => kind === 'override');
      const fits =
        override !== undefined && override.bathId === bath.id && override.bathState === status.state;
      if (!fits || Date.now() - override.at.getTime() > OVERRIDE_MS)
        throw new DomainError(
          'override-needed',
          `The bath is ${stateWords(status.state)}: ${status.reasons.join('; ')}. It needs an override by planning, lab or quality, with a reason.`,
          { current: status },
        );
    }
    await queries.startRun(execute, {
      ...{ id: run.id, bathId: bath.id, strength: strength.value, analysisId: strength.analysisId },
      ...{ bathState: status?.state ?? 'not-watched', bathReasons: status?.reasons ?? [] },
    });
    return { event: { kind: 'in' }, action: `stamped In in tank ${run.tank.code}` };
  });
/** Time to rack, fetch and put in after somebody said that the bath may be used as it is. */
const OVERRIDE_MS = 60 * 60_000;

const obstacleWords: Record<
  NonNullable<TrialRun['obstacle']>,
  (facts: { tank: string; component: string }) => string
> = {
  'no-bath': ({ tank }) => `Tank ${tank} has no bath in it: make one up first.`,
  'not-filled': ({ tank }) => `The bath in tank ${tank} is not filled yet.`,
  'other-contents': ({ tank }) =>
    `Tank ${tank} holds something else by now: withdraw the trial and plan it again.`,
  'strength-not-watched': ({ tank, component }) =>
    `The monitoring plan of tank ${tank} does not state ${component} as the series does: a trial would have no concentration.`,
  'not-analysed': ({ tank, component }) =>
    `The ${component} in tank ${tank} was never analysed: analyse it first.`,
  'changed-since': ({ tank, component }) =>
    `Something was added to tank ${tank} after the last analysis of ${component}: analyse it first.`,
};

export const liftTrialStrip = (db: Db, options: Stamping & { position: number }): Promise<TrialRun> =>
  stamped(db, options, ({ run, clock }) => {
    if (run.kind !== 'strip') throw refused(`${run.number} is of coupons: nothing of it is lifted.`);
    checkIn({ run, clock });
    if (openPause(clock)) throw refused('Lifting is paused: go on first.');
    const next = clock.lifts.length + 1;
    if (next >= run.pieces)
      throw refused(`All ${run.pieces - 1} lifts are stamped: the last band leaves with Out.`);
    if (options.position !== next)
      throw refused(
        options.position < next
          ? `Lift ${options.position} was stamped already.`
          : `Lift ${next} comes first.`,
      );
    return Promise.resolve({
      event: { kind: 'lift' },
      action: `lifted the strip, band ${next} of ${run.pieces}`,
    });
  });

export const pauseTrialRun = (
  db: Db,
  options: Stamping & { reason: string; supplyOff: boolean },
): Promise<TrialRun> =>
  stamped(db, options, ({ run, clock }) => {
    if (run.kind !== 'strip') throw refused(`${run.number} is of coupons: nothing of it is lifted.`);
    checkIn({ run, clock });
    if (openPause(clock)) throw refused('Lifting is paused already.');
    const { reason, supplyOff } = options;
    return Promise.resolve({
      event: { kind: 'pause', reason, supplyOff },
      action: supplyOff ? 'paused with the supply off' : 'paused lifting, the supply on',
      reason,
    });
  });

export const resumeTrialRun = (db: Db, options: Stamping): Promise<TrialRun> =>
  stamped(db, options, ({ run, clock }) => {
    checkIn({ run, clock });
    if (!openPause(clock)) throw refused('Lifting is not paused.');
    return Promise.resolve({ event: { kind: 'resume' }, action: 'went on' });
  });

/** What was read: while it is in, or soon after. A trial on a supply has a voltage, any other none. */
export const noteTrialReading = (db: Db, options: Stamping & { reading: TrialReading }): Promise<TrialRun> =>
  stamped(db, options, ({ run, clock }) => {
    if (clock.in === null) throw refused(`${run.number} was not stamped in.`);
    const { reading } = options;
    if (isTrialDriven(run.contents) && reading.voltageV === null)
      throw fieldError('voltageV', 'must be filled in');
    if (run.contents === 'dye')
      for (const path of ['voltageV', 'currentA'] as const)
        if (reading[path] !== null) throw fieldError(path, 'must be empty: no current runs in a dye');
    if (run.contents !== 'dye' && reading.pH !== null)
      throw fieldError('pH', 'must be empty: it is read in a dye');
    return Promise.resolve({ event: { kind: 'reading', reading }, action: `wrote down ${inWords(reading)}` });
  });
const inWords = ({ temperatureC, voltageV, currentA, pH }: TrialReading) =>
  [
    `${temperatureC} °C`,
    ...(voltageV === null ? [] : [`${voltageV} V`]),
    ...(currentA === null ? [] : [`${currentA} A`]),
    ...(pH === null ? [] : [`pH ${pH}`]),
  ].join(', ');

export const takeTrialOut = (db: Db, options: Stamping): Promise<TrialRun> =>
  stamped(db, options, ({ run, clock }) => {
    checkIn({ run, clock });
    return Promise.resolve({ event: { kind: 'out' }, action: 'stamped Out' });
  });

/** Sets the clock back; the stamps stay as they were given. */
export const resetTrialRun = (db: Db, options: Omit<Stamping, 'agoS'>): Promise<TrialRun> =>
  stamped(db, { ...options, agoS: 0 }, async ({ execute, run, clock }) => {
    if (clock.in === null) throw refused(`The clock of ${run.number} does not run.`);
    await queries.setPlanned(execute, run.id);
    return { event: { kind: 'reset' }, action: 'reset the clock' };
  });
