import type { Calendar } from './calendar.ts';
import type { PlanId, PlannedStep, PlanStep, Span } from './plan.ts';

/** What a chain of steps is placed into. */
export interface Line {
  shifts: readonly Span[];
  transferS: number;
  tanks: ReadonlyMap<PlanId, Calendar>;
  supplies: ReadonlyMap<PlanId, { calendar: Calendar; tankIds: readonly PlanId[] }>;
}

/** A place that is free for a step, and from when. */
interface Spot {
  tankId: PlanId | null;
  supplyId: PlanId | null;
  startS: number;
}

/** From entering the tank to leaving the space above it, without waiting. */
const stayOf = ({ durationS, dripS = 0 }: PlanStep): number => durationS + dripS;

/** The shortest time a chain can take. */
export const leastTime = (chain: readonly PlanStep[], transferS: number): number =>
  chain.reduce((sum, step) => sum + stayOf(step), 0) + (chain.length - 1) * transferS;

/**
 * The earliest way to run steps that follow one another without rest, inside one shift. Null when no shift that is left
 * takes them.
 *
 * Tries a start; where a tank down the line is not free in time, even with the wait the step before allows, starts as much
 * later as is missing and tries again. Every try begins later than the one before, so it comes to an end.
 */
export function placeChain(chain: readonly PlanStep[], earliestS: number, line: Line): PlannedStep[] | null {
  const leastS = leastTime(chain, line.transferS);
  let startS = earliestS;
  for (const shift of line.shifts) {
    startS = Math.max(startS, shift.fromS);
    while (startS + leastS <= shift.untilS) {
      const tried = tryAt(chain, startS, line);
      if (typeof tried === 'number') {
        startS = tried;
        continue;
      }
      if ((tried.at(-1)?.leaveS ?? startS) <= shift.untilS) return tried;
      // It fits but for its waits. A later start in this shift ends no earlier.
      break;
    }
  }
  return null;
}

/** The steps from this start on, or the next start worth trying. */
function tryAt(chain: readonly PlanStep[], startS: number, line: Line): PlannedStep[] | number {
  const placed: PlannedStep[] = [];
  let arrivalS = startS;
  for (const [i, step] of chain.entries()) {
    const spot = firstSpot(step, arrivalS, line);
    const lateS = spot.startS - arrivalS;
    if (lateS > 0) {
      const before = placed[i - 1];
      const waitS = before ? longestWait(before, chain[i - 1], line) : 0;
      if (!before || lateS > waitS) return startS + lateS - waitS;
      before.leaveS += lateS;
    }
    const endS = spot.startS + step.durationS;
    placed.push({ ...spot, endS, leaveS: spot.startS + stayOf(step) });
    arrivalS = spot.startS + stayOf(step) + line.transferS;
  }
  return placed;
}

/** How long a load may stay on: as the step allows, and until the tank is wanted by another. */
function longestWait({ tankId, leaveS }: PlannedStep, step: PlanStep | undefined, line: Line): number {
  const calendar = tankId === null ? undefined : line.tanks.get(tankId);
  return Math.min(step?.maxWaitS ?? 0, calendar?.freeFor(leaveS) ?? Infinity);
}

/** The tank, and the supply where one is needed, that is free first; among equals the one named first. */
function firstSpot(step: PlanStep, fromS: number, line: Line): Spot {
  if (step.tankIds.length === 0) return { tankId: null, supplyId: null, startS: fromS };
  const spots = step.tankIds.flatMap((tankId): Spot[] => {
    const tank = line.tanks.get(tankId);
    if (!tank) return [];
    if (!step.supplyIds) return [{ tankId, supplyId: null, startS: tank.nextFree(fromS, stayOf(step)) }];
    return step.supplyIds.flatMap((supplyId): Spot[] => {
      const supply = line.supplies.get(supplyId);
      if (!supply?.tankIds.includes(tankId)) return [];
      return [{ tankId, supplyId, startS: bothFree({ tank, supply: supply.calendar, step, fromS }) }];
    });
  });
  return spots.reduce((first, spot) => (spot.startS < first.startS ? spot : first));
}

function bothFree({
  fromS,
  tank,
  step,
  supply,
}: {
  tank: Calendar;
  supply: Calendar;
  step: PlanStep;
  fromS: number;
}): number {
  let startS = fromS;
  for (;;) {
    const tankS = tank.nextFree(startS, stayOf(step));
    const supplyS = supply.nextFree(tankS, step.durationS);
    if (supplyS === tankS) return tankS;
    startS = supplyS;
  }
}
