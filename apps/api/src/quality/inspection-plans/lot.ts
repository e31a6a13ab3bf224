import { CalcError, type SamplingPlan, samplingPlan, type Severity } from '@huelot/calc';
import type { InspectionRecord, LotInspection, SeverityName } from '@huelot/contracts';
import type { Queryable, SqlExecutor } from '../../db/client.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { readLot } from '../../production/lots/index.ts';
import { isSame, severityOf, toCharacteristic } from './plan.ts';
import * as queries from './queries.ts';

interface Inspected {
  row: queries.CharacteristicRow;
  severity: SeverityName;
  /** Null where every piece is looked at, nothing waits, or inspection is discontinued. */
  plan: SamplingPlan | null;
  records: InspectionRecord[];
}
interface LotState {
  planRevision: number | null;
  part: queries.PartKey;
  lotSize: number;
  characteristics: Inspected[];
  earlier: InspectionRecord[];
  moves: readonly queries.MoveRow[];
}

/** What is asked and what was found of a lot, on the traveler in force. */
export async function readInspection(execute: SqlExecutor, lotId: number): Promise<LotState> {
  const {
    toCheck: lotSize,
    travelers,
    part: { id: partId },
  } = orNotFound(await readLot(execute, lotId), `lot ${lotId}`);
  const part = orNotFound(await queries.readPart(execute, partId), `part ${partId}`);
  const [plan, moves, records] = await Promise.all([
    queries.readPlan(execute, partId),
    queries.readMoves(execute, part),
    queries.readRecords(execute, lotId),
  ]);
  const current = travelers.at(-1)?.id;
  const ofTraveler = records.filter(({ travelerId }) => travelerId === current);
  return {
    planRevision: plan?.revision ?? null,
    ...{ part, lotSize },
    characteristics: (plan?.characteristics ?? []).map((row) => {
      const severity = severityOf(moves, row.name);
      return {
        ...{ row, severity, plan: planOf({ row, severity, lotSize }) },
        records: ofTraveler.filter(({ name }) => isSame(name, row.name)).map(toRecord),
      };
    }),
    earlier: records.filter(({ travelerId }) => travelerId !== current).map(toRecord),
    moves,
  };
}

const toRecord = ({
  travelerId: _,
  inspectedAt,
  ...record
}: Awaited<ReturnType<typeof queries.readRecords>>[number]): InspectionRecord => ({
  ...record,
  inspectedAt: inspectedAt.toISOString(),
});

function planOf({
  row: { level, aql },
  severity,
  lotSize,
}: {
  row: queries.CharacteristicRow;
  severity: SeverityName;
  lotSize: number;
}): SamplingPlan | null {
  if (level === null || aql === null || severity === 'stopped' || lotSize < 1) return null;
  try {
    return samplingPlan({ lotSize, level, aql: Number(aql), severity: severity satisfies Severity });
  } catch (error) {
    if (error instanceof CalcError) return null;
    throw error;
  }
}

/** Everything that was inspected of a lot, over all its travelers, oldest first. */
export const readInspections = async (execute: SqlExecutor, lotId: number): Promise<InspectionRecord[]> =>
  (await queries.readRecords(execute, lotId)).map(toRecord);

/** Why pieces of the lot cannot be accepted yet, in words; nothing where no plan asks for anything. */
export function missingOf({ characteristics }: LotState): string[] {
  return characteristics.flatMap(({ row: { name }, severity, records }) => {
    const [first] = records;
    if (first === undefined)
      return severity === 'stopped'
        ? [`inspection of ${name} is discontinued until quality takes it up again`]
        : [`${name} is not inspected yet`];
    if (first.verdict === 'rejected' && records.every(({ isScreening }) => !isScreening))
      return [`the sample of ${name} was rejected: look at every piece, or accept none`];
    return [];
  });
}

/** Pieces that inspection found and that therefore cannot be among those accepted. */
export const foundOf = ({ characteristics }: LotState): number =>
  Math.max(0, ...characteristics.flatMap(({ records }) => records.map(({ found }) => found)));

export async function viewInspection({ execute }: Queryable, lotId: number): Promise<LotInspection> {
  const state = await readInspection(execute, lotId);
  return {
    ...{ planRevision: state.planRevision, lotSize: state.lotSize, earlier: state.earlier },
    characteristics: state.characteristics.map(({ row, plan, records }) => {
      const asked =
        plan === null
          ? null
          : {
              ...{ letter: plan.letter, inspect: plan.inspect, ac: plan.ac, re: plan.re },
              ...{ planTable: plan.table, flags: plan.flags },
            };
      return { ...toCharacteristic(row, state.moves), asked, records };
    }),
    missing: missingOf(state),
  };
}

/** Characteristics of a lot's part whose inspection is discontinued: nothing of it is shipped. */
export async function readStopped(execute: SqlExecutor, lotId: number): Promise<string[]> {
  const { characteristics } = await readInspection(execute, lotId);
  return characteristics.filter(({ severity }) => severity === 'stopped').map(({ row }) => row.name);
}
