import type { BathReminder } from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import { readBathStatuses } from '../baths/index.ts';
import * as queries from './queries.ts';

/** From this share of an interval on, an analysis is shown as coming. */
const coming = 0.8;

/** What the lab has to do: analyses that are due or coming, and additions that wait, the most urgent first. */
export async function readReminders(execute: SqlExecutor): Promise<BathReminder[]> {
  const baths = await queries.readWatchedBaths(execute);
  const standing = await readBathStatuses(execute, baths);
  const analyses = baths.flatMap((bath) => {
    const its = standing.get(bath.id);
    if (its === undefined) return [];
    const place = {
      bathId: bath.id,
      bathNumber: bath.number,
      tankCode: bath.tankCode,
      tankName: bath.tankName,
    };
    const nameOf = (key: string) => its.setup?.components.find((one) => one.key === key)?.name ?? key;
    const asked = its.requests.map((request): BathReminder => ({
      ...place,
      kind: 'request',
      title:
        request.addition === null
          ? `Analysis asked for by ${request.askedBy}`
          : `Confirm ${request.addition.number} by an analysis`,
      detail: [request.components.map(nameOf).join(', '), request.note].filter(Boolean).join('. '),
      dueAt: request.dueAt,
      overdue: Date.parse(request.dueAt) <= Date.now(),
    }));
    const planned = its.plans
      .filter(({ share }) => share >= coming)
      .map((plan): BathReminder => ({
        ...place,
        kind: 'plan',
        title: `Analyse ${plan.components.map(nameOf).join(', ')}`,
        detail: [plan.methodCode, `${Math.round(100 * plan.share)} % of the interval used`]
          .filter(Boolean)
          .join(', '),
        dueAt: dueOf({ lastAt: plan.lastAt ?? bath.madeUpAt.toISOString(), everyDays: plan.everyDays }),
        overdue: plan.due,
      }));
    return [...asked, ...planned];
  });
  const additions = (await queries.readPlannedAdditions(execute)).map(
    ({ number, plannedBy, plannedAt, ...place }): BathReminder => ({
      ...place,
      kind: 'addition',
      title: `Do or withdraw ${number}`,
      detail: `planned by ${plannedBy}`,
      dueAt: plannedAt.toISOString(),
      overdue: false,
    }),
  );
  return [...analyses, ...additions].sort(
    (a, b) => Number(b.overdue) - Number(a.overdue) || timeOf(a) - timeOf(b) || a.bathId - b.bathId,
  );
}

const timeOf = ({ dueAt }: BathReminder) => (dueAt === null ? Number.MAX_SAFE_INTEGER : Date.parse(dueAt));

const DAY = 86_400_000;
const lastMs = Date.UTC(9999, 11, 31);
const dueOf = ({ lastAt, everyDays }: { lastAt: string; everyDays: number | null }): string | null =>
  everyDays === null ? null : new Date(Math.min(Date.parse(lastAt) + everyDays * DAY, lastMs)).toISOString();

/** By the calendar, whatever falls due in the coming weeks too: for a calendar program. */
export async function readCalendarDates(execute: SqlExecutor): Promise<BathReminder[]> {
  const baths = await queries.readWatchedBaths(execute);
  const standing = await readBathStatuses(execute, baths);
  return baths.flatMap((bath) => {
    const its = standing.get(bath.id);
    if (its === undefined) return [];
    const place = {
      bathId: bath.id,
      bathNumber: bath.number,
      tankCode: bath.tankCode,
      tankName: bath.tankName,
    };
    const nameOf = (key: string) => its.setup?.components.find((one) => one.key === key)?.name ?? key;
    return [
      ...its.requests.map((request): BathReminder => ({
        ...place,
        kind: 'request',
        title: request.addition === null ? 'Analysis asked for' : `Confirm ${request.addition.number}`,
        detail: request.note,
        dueAt: request.dueAt,
        overdue: Date.parse(request.dueAt) <= Date.now(),
      })),
      ...its.plans.map((plan): BathReminder => ({
        ...place,
        kind: 'plan',
        title: `Analyse ${plan.components.map(nameOf).join(', ')}`,
        detail: plan.methodCode ?? '',
        dueAt: dueOf({ lastAt: plan.lastAt ?? bath.madeUpAt.toISOString(), everyDays: plan.everyDays }),
        overdue: plan.due,
      })),
    ];
  });
}
