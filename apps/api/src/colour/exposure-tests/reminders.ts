import type { SqlExecutor } from '../../db/client.ts';
import { readInterruptionsOfTests } from './chamber-queries.ts';
import { exposureUntil } from './hours.ts';
import { readOpenTests, type TestReminder } from './look-queries.ts';

export interface ExposureReminder {
  id: number;
  title: string;
  detail: string;
  when: string | null;
  urgent: boolean;
}

/** What open tests wait for, those that somebody answers for first, then the most urgent. */
export async function readExposureReminders(
  execute: SqlExecutor,
  personId: number,
): Promise<ExposureReminder[]> {
  const tests = await readOpenTests(execute);
  const interruptions = await readInterruptionsOfTests(
    execute,
    tests.map(({ id }) => id),
  );
  const now = new Date();
  return tests
    .flatMap((test) => {
      const exposedHours =
        test.startedAt === null
          ? 0
          : exposureUntil({
              startedAt: test.startedAt,
              until: now,
              interruptions: interruptions.filter(({ testId }) => testId === test.id),
            });
      return remindersOf(test, exposedHours).map((one) => ({
        ...one,
        mine: test.responsibleId === personId,
      }));
    })
    .toSorted(
      (one, other) => Number(other.mine) - Number(one.mine) || Number(other.urgent) - Number(one.urgent),
    )
    .map(({ mine: _mine, ...one }) => one);
}

const specimens = (count: number) => `${count} ${count === 1 ? 'specimen' : 'specimens'}`;

function remindersOf(test: TestReminder, exposedHours: number): ExposureReminder[] {
  const about = (title: string, rest: Partial<ExposureReminder> = {}): ExposureReminder => ({
    ...{ id: test.id, title: `${test.number}: ${title}`, when: null, urgent: false },
    detail: `${test.name}; ${test.responsible} answers for it`,
    ...rest,
  });
  if (test.state === 'planned')
    return test.plannedStart !== null && test.plannedStart <= test.today
      ? [about('to be started', { when: test.plannedStart, urgent: test.plannedStart < test.today })]
      : [];
  return [
    ...(test.outside.length === 0
      ? []
      : [about('chamber outside its range', { when: test.outsideAt?.toISOString() ?? null, urgent: true })]),
    ...(test.overdue === 0
      ? []
      : [
          about(`${specimens(test.overdue)} not looked at yesterday: enter it today or it stays missed`, {
            urgent: true,
          }),
        ]),
    ...(test.dueToday === 0 ? [] : [about(`${specimens(test.dueToday)} to look at today`)]),
    ...(exposedHours < test.plannedHours
      ? []
      : [
          about(`has its ${test.plannedHours} h: to be ended`, {
            urgent: exposedHours > test.plannedHours + 24,
          }),
        ]),
  ];
}
