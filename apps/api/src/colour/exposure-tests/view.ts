import { firstCorrosion, protectionRating } from '@huelot/calc';
import {
  isCorroded,
  type ExposureInterruption,
  type ExposureObservation,
  type ExposureSpecimen,
  type ExposureTest,
  type ExposureTestItem,
} from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import * as chamber from './chamber-queries.ts';
import { exposureUntil } from './hours.ts';
import { countLooks, readLooks, type Look } from './look-queries.ts';
import * as queries from './queries.ts';
import { noResult, resultOf } from './result.ts';
import type { StoredTest } from './queries.ts';
import type { StoredObservation, StoredSpecimen, StoredVerdict } from './specimen-queries.ts';
import * as stored from './specimen-queries.ts';

const withRating = ({ verdict, defectAreaPercent, note }: StoredVerdict) => ({
  ...{ verdict, defectAreaPercent, note },
  rating:
    defectAreaPercent === null
      ? isCorroded(verdict)
        ? null
        : protectionRating({ defectAreaPercent: 0 })
      : protectionRating({ defectAreaPercent }),
});

type Clock = Pick<StoredTest, 'startedAt' | 'endedAt'> & { interruptions: readonly ExposureInterruption[] };

export function toObservation(
  { testId: _test, specimenId: _specimen, corrections, ...row }: StoredObservation,
  { startedAt, endedAt, interruptions }: Clock,
): ExposureObservation {
  return {
    ...row,
    ...withRating(row),
    exposedHours: startedAt === null ? 0 : exposureUntil({ startedAt, until: row.seenAt, interruptions }),
    counts: withRating(corrections.at(-1) ?? row),
    corrections: corrections.map((correction) => ({
      ...correction,
      ...withRating(correction),
      afterEnd: endedAt !== null && correction.correctedAt > endedAt,
    })),
  };
}

/** One observation as it counts. */
export async function readObservation(execute: SqlExecutor, id: number): Promise<ExposureObservation> {
  const row = orNotFound(await stored.readObservation(execute, id), `observation ${id}`);
  const test = await readStored(execute, row.testId);
  const interruptions = await chamber.readInterruptionsOfTests(execute, [row.testId]);
  return toObservation(row, { ...test, interruptions });
}

export const readStored = async (execute: SqlExecutor, id: number): Promise<StoredTest> =>
  orNotFound(await queries.readTest(execute, id), `exposure test ${id}`);

function toSpecimen(
  specimen: StoredSpecimen,
  observations: ExposureObservation[],
  looks: readonly Look[],
): ExposureSpecimen {
  const daysIn = (state: Look['state']) =>
    looks.filter((look) => look.specimenId === specimen.id && look.state === state).map(({ day }) => day);
  return {
    ...specimen,
    observations,
    missedDays: daysIn('missed'),
    dueDays: daysIn('due'),
    firstCorrosion: firstCorrosion({
      looks: observations.map(({ exposedHours, counts }) => ({
        exposedH: exposedHours,
        corroded: isCorroded(counts.verdict),
      })),
    }),
  };
}

/** One test whole, as it stands at `now`. */
export async function readExposureTest(
  execute: SqlExecutor,
  { id, now = new Date() }: { id: number; now?: Date },
): Promise<ExposureTest> {
  const { result, ...test } = await readStored(execute, id);
  const [rows, observations, readings, interruptions, looks] = [
    await stored.readSpecimens(execute, id),
    await stored.readObservationsOfTest(execute, id),
    await chamber.readReadingsOfTest(execute, id),
    await chamber.readInterruptionsOfTests(execute, [id]),
    await readLooks(execute, id),
  ];
  const specimens = rows.map((row) => {
    const own = observations.filter(({ specimenId }) => specimenId === row.id);
    return toSpecimen(
      row,
      own.map((one) => toObservation(one, { ...test, interruptions })),
      looks,
    );
  });
  const missedLooks = looks.filter(({ state }) => state === 'missed').length;
  const readingsOutside = readings.filter(({ outside }) => outside.length > 0).length;
  const facts = { specimens, interruptions, missedLooks, readingsOutside };
  const { startedAt, endedAt } = test;
  const live = startedAt === null ? noResult : resultOf({ ...facts, startedAt, until: endedAt ?? now });
  return {
    ...test,
    ...facts,
    readings,
    exposedHours: startedAt === null ? null : live.exposedHours,
    dueLooks: looks.filter(({ state }) => state === 'due').length,
    result: result ?? live,
    lookDays: daysOf(looks),
  };
}

const daysOf = (looks: readonly Look[]): ExposureTest['lookDays'] =>
  [...new Set(looks.map(({ day }) => day))].map((day) => ({
    day,
    interrupted: looks.every((look) => look.day !== day || look.state === 'interrupted'),
  }));

/** Tests as a list shows them. */
export async function toItems(
  execute: SqlExecutor,
  tests: readonly queries.ListedTest[],
): Promise<ExposureTestItem[]> {
  const ids = tests.map(({ id }) => id);
  const [counts, interruptions] = [
    await countLooks(execute, ids),
    await chamber.readInterruptionsOfTests(execute, ids),
  ];
  const now = new Date();
  return tests.map((test) => {
    const count = counts.find(({ testId }) => testId === test.id);
    return {
      ...test,
      exposedHours:
        test.startedAt === null
          ? null
          : exposureUntil({
              startedAt: test.startedAt,
              until: test.endedAt ?? now,
              interruptions: interruptions.filter(({ testId }) => testId === test.id),
            }),
      missedLooks: count?.missed ?? 0,
      dueLooks: count?.due ?? 0,
    };
  });
}
