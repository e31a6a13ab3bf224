import { checkFinite, checkWhole } from '../check.ts';
import { CalcError } from '../errors.ts';
import type { PlanId, PlanStep, Shop, Span } from './plan.ts';

/** A hundred years of seconds: any calendar fits, and sums stay exact. */
const LONGEST_S = 3.2e9;
const DAYS_30_S = 2_592_000;
const time = { min: -LONGEST_S, max: LONGEST_S };
const length = { min: 0, max: DAYS_30_S };

/** Refuses what no plan exists for, names it by its place. */
export function checkShop(shop: Shop): void {
  checkWhole('startS', shop.startS, time);
  checkWhole('transferS', shop.transferS, length);
  checkShifts(shop.shifts);
  const tankIds = checkIds('tanks', shop.tanks);
  const supplyIds = checkIds('supplies', shop.supplies);
  checkIds('lots', shop.lots);
  shop.tanks.forEach(({ busy = [] }, i) =>
    busy.forEach((span, k) => checkSpan(`tanks[${i}].busy[${k}]`, span)),
  );
  shop.supplies.forEach(({ busy = [], tankIds: wired }, i) => {
    busy.forEach((span, k) => checkSpan(`supplies[${i}].busy[${k}]`, span));
    wired.forEach((id, k) => checkKnown(`supplies[${i}].tankIds[${k}]`, id, tankIds));
  });
  shop.lots.forEach(({ dueS, releaseS, priority, steps }, i) => {
    const path = `lots[${i}]`;
    if (dueS !== undefined && dueS !== null) checkWhole(`${path}.dueS`, dueS, time);
    if (releaseS !== undefined) checkWhole(`${path}.releaseS`, releaseS, time);
    if (priority !== undefined) checkWhole(`${path}.priority`, priority);
    if (steps.length === 0) throw malformed(`${path}.steps`, 'no step', 'at least one step');
    steps.forEach((step, k) => checkStep(`${path}.steps[${k}]`, step, { shop, tankIds, supplyIds }));
  });
}

interface Known {
  shop: Shop;
  tankIds: ReadonlySet<PlanId>;
  supplyIds: ReadonlySet<PlanId>;
}

function checkStep(path: string, step: PlanStep, { shop, tankIds, supplyIds }: Known): void {
  checkWhole(`${path}.durationS`, step.durationS, length);
  checkWhole(`${path}.dripS`, step.dripS ?? 0, length);
  checkWhole(`${path}.maxWaitS`, step.maxWaitS ?? 0, length);
  step.tankIds.forEach((id, k) => checkKnown(`${path}.tankIds[${k}]`, id, tankIds));
  const { supplyIds: wanted } = step;
  if (!wanted) return;
  wanted.forEach((id, k) => checkKnown(`${path}.supplyIds[${k}]`, id, supplyIds));
  const wired = shop.supplies.filter(({ id }) => wanted.includes(id)).flatMap((supply) => supply.tankIds);
  if (!step.tankIds.some((id) => wired.includes(id))) {
    const given = wanted.length === 0 ? 'none' : wanted.join(', ');
    const allowed = 'a supply that is wired to one of the tanks of the step';
    throw new CalcError({ code: 'impossible', argument: `${path}.supplyIds`, given, allowed });
  }
}

function checkShifts(shifts: readonly Span[]): void {
  if (shifts.length === 0) throw malformed('shifts', 'no shift', 'at least one shift');
  shifts.forEach((span, i) => {
    checkSpan(`shifts[${i}]`, span);
    const before = shifts[i - 1];
    if (before && span.fromS < before.untilS) {
      throw malformed(
        `shifts[${i}].fromS`,
        span.fromS,
        `at least ${before.untilS}, when the shift before ends`,
      );
    }
  });
}

function checkSpan(path: string, { fromS, untilS }: Span): void {
  checkWhole(`${path}.fromS`, fromS, time);
  checkWhole(`${path}.untilS`, untilS, { ...time, above: fromS });
}

function checkIds(path: string, records: readonly { id: PlanId }[]): ReadonlySet<PlanId> {
  const ids = new Set<PlanId>();
  records.forEach(({ id }, i) => {
    checkFinite(`${path}[${i}].id`, id);
    if (ids.has(id)) throw malformed(`${path}[${i}].id`, id, 'each id once');
    ids.add(id);
  });
  return ids;
}

function checkKnown(path: string, id: PlanId, known: ReadonlySet<PlanId>): void {
  if (!known.has(id)) {
    throw new CalcError({
      code: 'unknown',
      argument: path,
      given: id,
      allowed: [...known].join(', ') || 'none',
    });
  }
}

const malformed = (argument: string, value: unknown, allowed: string): CalcError =>
  new CalcError({ code: 'malformed', argument, given: value, allowed });
