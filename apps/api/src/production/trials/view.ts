import type { TrialObstacle, TrialRun, TrialRunItem } from '@huelot/contracts';
import { readBathStrength, type BathStrength } from '../../colour/coupons/index.ts';
import type { SqlExecutor } from '../../db/client.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { readPlace, readTankBathStatus } from '../travelers/index.ts';
import { clockOf, piecesOf } from './pieces.ts';
import * as queries from './queries.ts';

const iso = (date: Date | null) => date?.toISOString() ?? null;

export const toItem = (row: queries.RunRow): TrialRunItem => ({
  ...{ id: row.id, number: row.number, state: row.state, seriesCode: row.seriesCode, material: row.material },
  ...{
    contents: row.contents,
    kind: row.kind,
    pieces: row.pieces,
    tank: row.tank,
    supply: row.supply ?? null,
  },
  ...{ coatingThicknessUm: row.coatingThicknessUm, temperatureC: row.temperatureC, voltageV: row.voltageV },
  ...{ timeS: row.timeS, intervalS: row.intervalS, stepMm: row.stepMm, instructions: row.instructions },
  ...{ plannedBy: row.plannedBy, plannedAt: row.plannedAt.toISOString(), inAt: iso(row.inAt) },
  ...{ signedBy: row.signedBy, signedAt: iso(row.signedAt), version: row.version },
});

/** What stands in the tank of a trial now, and why it could not go in. */
export async function standingOf(execute: SqlExecutor, row: queries.RunRow) {
  const place = await readPlace(execute, { tankId: row.tank.id, supplyId: row.supply?.id ?? null });
  const none = (obstacle: TrialObstacle) => ({ place, bath: null, status: null, strength: null, obstacle });
  if (place.contents !== row.contents) return none('other-contents');
  if (place.bathId === null || place.bathMadeUpAt === null) return none('no-bath');
  if (place.makeUpToDo !== null) return none('not-filled');
  const bath = { id: place.bathId, madeUpAt: place.bathMadeUpAt, isJudged: place.bathIsJudged };
  const status = await readTankBathStatus(execute, bath);
  const found = await readBathStrength(execute, { bath, stated: row });
  return typeof found === 'string'
    ? { place, bath, status, strength: null, obstacle: found }
    : { place, bath, status, strength: found, obstacle: null };
}

const toStrength = ({ value, analysisId, analysisNumber, sampledAt }: BathStrength) => ({
  ...{ value, analysisId, analysisNumber, sampledAt },
});

/** One run: as it was signed, or as it stands with its tank now. */
export async function readTrialRun(execute: SqlExecutor, id: number): Promise<TrialRun> {
  const row = orNotFound(await queries.readRun(execute, id), `trial run ${id}`);
  const events = await queries.readEvents(execute, id);
  const clock = clockOf(events);
  const now = row.state === 'planned' ? await standingOf(execute, row) : null;
  const used = row.analysis;
  const override = events.findLast(({ kind }) => kind === 'override');
  const stamp = ({ at, by }: { at: Date; by: string }) => ({ at: at.toISOString(), by });
  return {
    ...toItem(row),
    ...{ component: row.component, unit: row.unit, referenceTemperatureC: row.referenceTemperatureC },
    draft: row.draft,
    bath: now === null ? row.bath : now.bath && { id: now.bath.id, number: now.place.bathNumber ?? '' },
    bathStatus: now === null ? statusOf(row) : now.status,
    strength:
      now !== null
        ? now.strength && toStrength(now.strength)
        : row.strength === null || used === null
          ? null
          : {
              value: row.strength,
              analysisId: used.id,
              analysisNumber: used.number,
              sampledAt: new Date(used.sampledAt).toISOString(),
            },
    obstacle: now?.obstacle ?? null,
    ...{ inAt: iso(clock.in?.at ?? null), inBy: clock.in?.by ?? null },
    ...{ outAt: iso(clock.out?.at ?? null), outBy: clock.out?.by ?? null },
    lifts: clock.lifts.map((lift, index) => ({ position: index + 1, ...stamp(lift) })),
    pauses: clock.pauses.map(({ from, to, by, reason, supplyOff }) => ({
      ...{ from: from.toISOString(), to: iso(to), by, reason, supplyOff },
    })),
    readings: clock.readings.map(({ at, by, ...reading }) => ({ ...reading, ...stamp({ at, by }) })),
    resets: events.filter(({ kind }) => kind === 'reset').map(stamp),
    override:
      override === undefined
        ? null
        : { ...stamp(override), reason: override.reason, state: (override.bathState ?? 'stop') as never },
    ...{ areaMm2: row.areaMm2, reason: row.reason, note: row.note },
    results: row.state === 'signed' ? await queries.readPieces(execute, id) : piecesOf(row, clock),
    landedIn: row.landedIn,
    withdrawn:
      row.withdrawnAt === null
        ? null
        : { at: row.withdrawnAt.toISOString(), by: row.withdrawnBy ?? '', reason: row.withdrawReason },
  };
}

/** How the bath stood when the trial went in. */
const statusOf = ({ bathState, bathReasons }: queries.RunRow): TrialRun['bathStatus'] =>
  bathState === null
    ? null
    : {
        state: bathState,
        overdue: false,
        needsOverride: bathState === 'stop' || bathState === 'on-hold',
        reasons: bathReasons,
        nextDueAt: null,
      };
