import {
  type InstrumentFault,
  type InstrumentKind,
  reads,
  type StepQuantity,
  stepQuantities,
} from '@huelot/contracts';
import { sql, type SqlExecutor } from '../../db/client.ts';
import { fieldError } from '../../kernel/refusal.ts';

/** A reading beside what it was read with. */
export interface NamedInstrument {
  /** Its code and name where the register knows it, words otherwise. */
  instrument: string;
  instrumentId: number | null;
  /** As it was on the day of the reading; stays with the reading whatever is calibrated later. */
  instrumentFault: InstrumentFault | null;
}

interface Reading {
  quantity: StepQuantity;
  instrument: string;
  /** Absent in what was kept before there was a register. */
  instrumentId?: number | null | undefined;
}

/**
 * Names the instruments of readings at a tank, and says whether each was overdue or had failed on the day it was read with. Neither is
 * refused: the load is out of the tank already.
 */
export async function nameInstruments<T extends Reading>(
  execute: SqlExecutor,
  { readings, readAt }: { readings: readonly T[]; readAt: Date },
): Promise<(T & NamedInstrument)[]> {
  const ids = [...new Set(readings.flatMap(({ instrumentId }) => instrumentId ?? []))];
  const found = ids.length === 0 ? [] : await readNamed(execute, { ids, readAt });
  return readings.map((reading, index) => {
    const instrumentId = reading.instrumentId ?? null;
    if (instrumentId === null) return { ...reading, instrumentId, instrumentFault: null };
    const path = `readings.${index}.instrumentId`;
    const row = found.find(({ id }) => id === instrumentId);
    if (row === undefined) throw fieldError(path, `there is no instrument ${instrumentId}`);
    if (row.isGone) throw fieldError(path, `${row.code} is not in use any more`);
    if (!reads(row.kind, reading.quantity))
      throw fieldError(
        path,
        `${row.code} is of a kind that reads no ${stepQuantities[reading.quantity].label}`,
      );
    return { ...reading, instrumentId, instrument: `${row.code} ${row.name}`, instrumentFault: row.fault };
  });
}

const readNamed = (execute: SqlExecutor, { ids, readAt }: { ids: number[]; readAt: Date }) =>
  execute<{
    id: number;
    code: string;
    name: string;
    kind: InstrumentKind;
    isGone: boolean;
    fault: InstrumentFault | null;
  }>(sql`
    select i."id", i."code", i."name", i."kind", coalesce(i."archivedAt" < ${readAt}::timestamptz, false) as "isGone",
           instrument_fault_on(i."id", (${readAt}::timestamptz at time zone (select "timeZone" from "shop"))::date) as "fault"
      from "instrument" i where i."id" = any(${ids})`);
