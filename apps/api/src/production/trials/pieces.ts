import { liftedBandTimes } from '@huelot/calc';
import type { TrialPiece, TrialReading, TrialRunKind } from '@huelot/contracts';
import type { TrialEventRow } from './queries.ts';

type Timed = Pick<TrialEventRow, 'at' | 'by'>;
export interface TrialClock {
  in: Timed | null;
  out: Timed | null;
  lifts: Timed[];
  pauses: { from: Date; to: Date | null; by: string; reason: string; supplyOff: boolean }[];
  readings: (TrialReading & Timed)[];
}

/** The events as they count: those since the clock was last reset. */
export function clockOf(events: readonly TrialEventRow[]): TrialClock {
  const reset = events.findLastIndex(({ kind }) => kind === 'reset');
  const counting = events.slice(reset + 1);
  const all = (kind: TrialEventRow['kind']) => counting.filter((event) => event.kind === kind);
  const resumes = all('resume');
  return {
    in: all('in')[0] ?? null,
    out: all('out')[0] ?? null,
    lifts: all('lift'),
    pauses: all('pause').map(({ id, at, by, reason, supplyOff }) => ({
      from: at,
      to: resumes.find((one) => one.id > id)?.at ?? all('out')[0]?.at ?? null,
      ...{ by, reason, supplyOff: supplyOff ?? false },
    })),
    readings: all('reading').map(({ temperatureC, voltageV, currentA, pH, at, by }) => ({
      ...{ temperatureC: temperatureC ?? 0, voltageV, currentA, pH, at, by },
    })),
  };
}

interface Run {
  kind: TrialRunKind;
  pieces: number;
  coatingThicknessUm: number | null;
  strength: number | null;
  areaMm2: number | null;
}
const MM2_PER_M2 = 1e6;
const toTenth = (seconds: number) => Math.max(0.1, Math.round(seconds * 10) / 10);

/**
 * What each coupon or band was made under, by its stamps and by what was read last before it left the bath. None before all of
 * it is out and something was read.
 */
export function piecesOf(run: Run, clock: TrialClock): TrialPiece[] {
  const { strength } = run;
  if (clock.in === null || clock.out === null || clock.readings.length === 0 || strength === null) return [];
  const startMs = clock.in.at.getTime();
  const sinceIn = (at: Date) => (at.getTime() - startMs) / 1000;
  const liftsS = run.kind === 'strip' ? clock.lifts.map(({ at }) => sinceIn(at)) : [];
  const outS = sinceIn(clock.out.at);
  const timesS = liftedBandTimes({
    liftsS,
    outS,
    pauses: clock.pauses
      .filter(({ supplyOff }) => supplyOff)
      .map(({ from, to }) => ({ fromS: sinceIn(from), toS: to === null ? outS : sinceIn(to) })),
  });
  const left = run.kind === 'strip' ? [...liftsS, outS] : Array.from({ length: run.pieces }, () => outS);
  return left.map((leftS, index): TrialPiece => {
    const reading = clock.readings.findLast(({ at }) => sinceIn(at) <= leftS) ?? clock.readings[0];
    const { temperatureC = 0, voltageV = null, currentA = null, pH = null } = reading ?? {};
    return {
      position: index + 1,
      coatingThicknessUm: run.coatingThicknessUm,
      ...{ temperatureC, voltageV, strength, pH },
      timeS: toTenth(timesS[run.kind === 'strip' ? index : 0] ?? 0),
      // The area of a strip in the bath changes with every lift.
      currentDensityAPerM2:
        currentA === null || run.areaMm2 === null || run.kind === 'strip'
          ? null
          : (currentA / run.areaMm2) * MM2_PER_M2,
    };
  });
}
