import { Calendar } from './calendar.ts';
import { checkShop } from './check-shop.ts';
import { type Line, leastTime, placeChain } from './place-chain.ts';
import type { Plan, PlanId, PlanLot, PlannedLot, PlannedStep, PlanStep, Shop, Span } from './plan.ts';

/**
 * When each lot goes through which tank: planned forward, one load in a tank at a time, one load on a supply at a time.
 *
 * Lots are taken by priority, then by due time, then by release, then by id, and each is placed as early as the lots
 * before it allow, gaps between them included. Steps last exactly as long as they should. A load goes from tank to tank
 * without delay, unless a step allows it to wait (`maxWaitS`) or to be set down beside the line (`mayRest`); what lies
 * between two rests is begun and finished in one shift. Above its tank a load drips, and the tank is taken until it leaves.
 *
 * The same input gives the same plan, in whatever order lots are listed. It is a good plan, not the best there is: nothing
 * is moved once it is placed. The hoist counts by its transfer time only.
 *
 * Times are whole seconds since any moment (of the Unix epoch, for one). A lot that fits into no shift is left out with
 * the reason. Source: forward list scheduling by due date; common practice, no source. Errors: `out-of-range` and
 * `not-finite` with the place of the figure, `unknown` for an id that names nothing, `malformed` for repeated ids,
 * overlapping shifts or a lot without steps, `impossible` for a supply wired to none of the step's tanks.
 *
 * @example
 * const steps = [{ tankIds: ['clean'], durationS: 300 }, { tankIds: ['colour'], durationS: 600, supplyIds: ['PS1'] }];
 * scheduleLots({
 *   startS: 0,
 *   shifts: [{ fromS: 0, untilS: 28_800 }],
 *   transferS: 20,
 *   tanks: [{ id: 'clean' }, { id: 'colour' }],
 *   supplies: [{ id: 'PS1', tankIds: ['colour'] }],
 *   lots: [{ id: 1, steps }, { id: 2, dueS: 1200, steps }],
 * }).lots.map(({ id, startS, endS, lateS }) => [id, startS, endS, lateS])
 * // [[2, 0, 920, 0], [1, 600, 1520, 0]]
 */
export function scheduleLots(shop: Shop): Plan {
  checkShop(shop);
  const line: Line = {
    shifts: shop.shifts,
    transferS: shop.transferS,
    tanks: new Map(shop.tanks.map(({ id, busy }) => [id, new Calendar(busy)])),
    supplies: new Map(
      shop.supplies.map(({ id, busy, tankIds }) => [id, { calendar: new Calendar(busy), tankIds }]),
    ),
  };
  const lots: PlannedLot[] = [];
  const unplanned: Plan['unplanned'] = [];
  for (const lot of shop.lots.toSorted(inOrder)) {
    const steps = placeLot(lot, shop.startS, line);
    if (steps) {
      steps.forEach((step) => book(step, line));
      lots.push(plannedLot(lot, steps));
    } else {
      unplanned.push({ id: lot.id, reason: reasonFor(lot, line) });
    }
  }
  const steps = lots.flatMap((lot) => lot.steps);
  return {
    lots,
    unplanned,
    endS: Math.max(shop.startS, ...lots.map(({ endS }) => endS)),
    tanks: shop.tanks.map(({ id }) => ({ id, takenS: takenTime(steps, id) })),
  };
}

/** Steps between two rests: they follow one another without delay. */
function chainsOf(steps: readonly PlanStep[]): PlanStep[][] {
  const chains: PlanStep[][] = [[]];
  steps.forEach((step, i) => {
    chains.at(-1)?.push(step);
    if (step.mayRest && i < steps.length - 1) chains.push([]);
  });
  return chains;
}

function placeLot(lot: PlanLot, startS: number, line: Line): PlannedStep[] | null {
  const placed: PlannedStep[] = [];
  let earliestS = Math.max(startS, lot.releaseS ?? startS);
  for (const chain of chainsOf(lot.steps)) {
    const steps = placeChain(chain, earliestS, line);
    if (!steps) return null;
    placed.push(...steps);
    earliestS = (steps.at(-1)?.leaveS ?? earliestS) + line.transferS;
  }
  return placed;
}

function book({ tankId, supplyId, startS, endS, leaveS }: PlannedStep, line: Line): void {
  if (tankId !== null) line.tanks.get(tankId)?.take({ fromS: startS, untilS: leaveS });
  if (supplyId !== null) line.supplies.get(supplyId)?.calendar.take({ fromS: startS, untilS: endS });
}

function plannedLot({ id, dueS = null }: PlanLot, steps: PlannedStep[]): PlannedLot {
  const endS = steps.at(-1)?.leaveS ?? 0;
  return {
    id,
    startS: steps[0]?.startS ?? 0,
    endS,
    dueS,
    lateS: dueS === null ? 0 : Math.max(0, endS - dueS),
    steps,
  };
}

function reasonFor(lot: PlanLot, { shifts, transferS }: Line): string {
  const longestShift = Math.max(...shifts.map(lengthOf));
  const longestChain = Math.max(...chainsOf(lot.steps).map((chain) => leastTime(chain, transferS)));
  return longestChain > longestShift
    ? `it takes ${longestChain} s without a rest; the longest shift has ${longestShift} s`
    : 'the shifts given are over before it finds its place';
}

const lengthOf = ({ fromS, untilS }: Span): number => untilS - fromS;

const takenTime = (steps: readonly PlannedStep[], id: PlanId): number =>
  steps.filter(({ tankId }) => tankId === id).reduce((sum, { startS, leaveS }) => sum + leaveS - startS, 0);

/** Most urgent first. Ids decide last, so that the order of the list never does. */
function inOrder(a: PlanLot, b: PlanLot): number {
  return (
    (b.priority ?? 0) - (a.priority ?? 0) ||
    byTime(a.dueS ?? Infinity, b.dueS ?? Infinity) ||
    byTime(a.releaseS ?? -Infinity, b.releaseS ?? -Infinity) ||
    byId(a.id, b.id)
  );
}

const byTime = (a: number, b: number): number => (a === b ? 0 : a < b ? -1 : 1);

/** Numbers before texts; texts by their code units, the same in every language. */
function byId(a: PlanId, b: PlanId): number {
  if (typeof a === 'number') return typeof b === 'number' ? a - b : -1;
  if (typeof b === 'number') return 1;
  return a === b ? 0 : a < b ? -1 : 1;
}
