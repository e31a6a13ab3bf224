import { bathStatus, type WatchedComponent } from '@huelot/calc';
import type {
  AnalysisRequest,
  AnalysisResult,
  BathComponent,
  BathHold,
  BathSetup,
  BathStatus,
  PlanState,
} from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import * as holdQueries from './hold-queries.ts';
import * as setupQueries from './setup-queries.ts';
import * as statusQueries from './status-queries.ts';

/** How a bath stands, with everything that says so. */
export interface BathStanding {
  status: BathStatus;
  setup: BathSetup | null;
  latest: AnalysisResult[];
  plans: PlanState[];
  requests: AnalysisRequest[];
  /** What keeps work out of it now. */
  holds: BathHold[];
}

const DAY = 86_400_000;
const notWatched: BathStatus = {
  state: 'not-watched',
  overdue: false,
  needsOverride: false,
  reasons: [],
  nextDueAt: null,
};

interface Standing {
  id: number;
  madeUpAt: Date;
  dumpedAt?: Date | null;
}

/**
 * How baths stand at this moment, and those that were dumped at their last, by key: latest results against the limits in force, plans against what was done since,
 * requests that are open, and holds.
 *
 * @example
 * const standing = (await standingOf(db.run, [bath])).get(bath.id);
 */
export async function readBathStatuses(
  execute: SqlExecutor,
  baths: readonly Standing[],
): Promise<Map<number, BathStanding>> {
  const ids = baths.map(({ id }) => id);
  if (ids.length === 0) return new Map();
  const setups = await setupQueries.readSetupsOf(execute, ids);
  const latest = await statusQueries.readLatest(execute, [...setups.keys()]);
  const requests = await setupQueries.readOpenRequests(execute, ids);
  const allHolds = (await holdQueries.readOpenHolds(execute, ids)).map(holdQueries.toHold);
  const asked = baths.flatMap((bath) =>
    (setups.get(bath.id)?.plans ?? []).map((plan) => {
      const times = plan.components.map((key) =>
        latest.find((row) => row.bathId === bath.id && row.component === key)?.sampledAt.getTime(),
      );
      const known = times.filter((time) => time !== undefined);
      const lastAt = known.length < times.length ? null : new Date(Math.min(...known));
      return { bathId: bath.id, plan, lastAt, since: lastAt };
    }),
  );
  const unfilled = await statusQueries.readUnfilled(execute, ids);
  const uses = await statusQueries.readUse(execute, asked);
  const methods = await setupQueries.readMethodCodes(
    execute,
    asked.flatMap(({ plan }) => plan.methodId ?? []),
  );

  const standing = (bath: Standing): BathStanding => {
    const nowMs = bath.dumpedAt?.getTime() ?? Date.now();
    const setup = setups.get(bath.id) ?? null;
    const mine = requests.filter(({ bathId }) => bathId === bath.id);
    const holds = allHolds.filter(({ bathId }) => bathId === bath.id);
    const results = latest.filter(({ bathId }) => bathId === bath.id);
    const planned = asked.flatMap((one, index) => {
      if (one.bathId !== bath.id) return [];
      const use = uses[index] ?? { loads: 0, areaM2: 0, ampereHours: 0 };
      return [{ ...one, use, sinceMs: (one.lastAt ?? bath.madeUpAt).getTime() }];
    });
    const found = bathStatus({
      nowMs,
      components: (setup?.components ?? []).map((component) => watched(component, results)),
      plans: planned.map(({ plan, use, sinceMs }) => ({
        ...plan,
        name: plan.components.map((key) => nameOf(setup?.components ?? [], key)).join(' and '),
        sinceMs,
        since: use,
      })),
      holds: [
        ...holds.map((hold) => ({ words: heldWords(hold) })),
        ...unfilled
          .filter(({ bathId }) => bathId === bath.id)
          .map(({ makeUp }) => ({ words: `not filled yet: its make-up ${makeUp} is not done` })),
      ],
      requests: mine.map((request) => ({ dueMs: Date.parse(request.dueAt), words: wordsOf(request) })),
    });
    return {
      setup,
      status: {
        state: found.state,
        overdue: found.overdue,
        needsOverride: found.needsOverride,
        reasons: found.reasons,
        nextDueAt: found.nextDueMs === null ? null : instantOf(found.nextDueMs),
      },
      latest: results.map(statusQueries.toResult),
      plans: planned.map(({ plan, lastAt, use, sinceMs }, index) => ({
        ...plan,
        methodCode: methods.get(plan.methodId ?? 0) ?? null,
        lastAt: lastAt?.toISOString() ?? null,
        since: { days: Math.max(0, (nowMs - sinceMs) / DAY), ...use },
        share: found.plans[index]?.share ?? 0,
        due: found.plans[index]?.due ?? false,
      })),
      requests: mine,
      holds,
    };
  };
  return new Map(baths.map((bath) => [bath.id, standing(bath)]));
}

/**
 * How the baths that stand in tanks stand, by the key of the tank; a tank without one is not in it.
 *
 * @example
 * const status = (await statusOfTanks(db.run, [tankId])).get(tankId);
 */
export async function statusOfTanks(
  execute: SqlExecutor,
  tankIds: readonly number[],
): Promise<Map<number, BathStatus>> {
  const baths = await statusQueries.readStanding(execute, tankIds);
  const standing = await readBathStatuses(
    execute,
    baths.filter(({ isJudged }) => isJudged),
  );
  return new Map(baths.map(({ id, tankId }) => [tankId, standing.get(id)?.status ?? notWatched]));
}

/** The last instant a calendar can name, for a plan of very many days. */
const lastMs = Date.UTC(9999, 11, 31);
const instantOf = (ms: number) => new Date(Math.min(ms, lastMs)).toISOString();

const nameOf = (components: readonly BathComponent[], key: string) =>
  components.find((component) => component.key === key)?.name ?? key;

/** A result counts in the unit that the component is watched in now; one in another unit tells nothing. */
function watched(component: BathComponent, results: statusQueries.ResultRow[]): WatchedComponent {
  const { name, unit, target, low, high, stopLow, stopHigh } = component;
  const row = results.find(
    (one) =>
      one.component === component.key &&
      one.unit === unit &&
      one.referenceTemperatureC === component.referenceTemperatureC,
  );
  return {
    name,
    unit,
    limits: { target, low, high, stopLow, stopHigh },
    latest: row === undefined ? null : { value: row.value, standardUncertainty: row.standardUncertainty },
  };
}

/** When it began is told where the hold is shown, in the clock of whoever reads it. */
const heldWords = ({ addition, reason, placedBy }: BathHold): string =>
  addition === null ? `on hold by ${placedBy}: ${reason}` : `on hold for ${addition.number}: ${reason}`;

function wordsOf({ why, addition, note, askedBy }: AnalysisRequest): string {
  const more = note.trim() === '' ? '' : `: ${note.trim()}`;
  if (addition !== null || why === 'after-addition')
    return `${addition?.number ?? 'an addition'} waits for its confirming analysis${more}`;
  if (why === 'make-up') return `the new bath waits for its first analysis${more}`;
  return `${askedBy} asks for an analysis${more}`;
}
