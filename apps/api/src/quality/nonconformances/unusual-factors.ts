import { hypergeometricTail, robustScore, scoreOfTail } from '@huelot/calc';
import type { UnusualFactor, UnusualFactors } from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { readCompared, readFactors, readSubject, type FactorRow } from './factor-queries.ts';

/** So many of the newest lots of a recipe are its history. */
const MOST_LOTS = 200;
/** Of fewer good lots nothing is said. */
const FEWEST_GOOD = 5;
/** The chance that a factor without any part in it lies beyond two standard deviations. */
const BEYOND_TWO = 0.0455;

/** How the bad lots of a nonconformance differ from the good lots of the recipe, the most unusual first. */
export async function readUnusualFactors(execute: SqlExecutor, id: number): Promise<UnusualFactors> {
  const { lotId, recipeId, recipe, fault } = orNotFound(
    await readSubject(execute, id),
    `nonconformance ${id}`,
  );
  const lots = await readCompared(execute, { lotId, recipeId, fault, most: MOST_LOTS });
  const isBad = new Set(lots.filter(({ bad }) => bad).map((lot) => lot.id));
  const good = lots.length - isBad.size;
  const rows =
    good < FEWEST_GOOD
      ? []
      : await readFactors(
          execute,
          lots.map((lot) => lot.id),
        );
  const byFactor = new Map<string, FactorRow[]>();
  for (const row of rows) {
    const key = `${row.name}\n${row.unit}`;
    byFactor.set(key, [...(byFactor.get(key) ?? []), row]);
  }
  const factors = [...byFactor.values()].flatMap((own) => factorOf(own, isBad) ?? []);
  return {
    ...{ recipe: { id: recipeId, label: recipe }, good, compared: factors.length },
    bad: lots.filter(({ bad }) => bad).map((lot) => ({ id: lot.id, number: lot.number })),
    factors: factors.toSorted((one, other) => rankOf(other) - rankOf(one)),
    expectedByChance: factors.length * BEYOND_TWO,
  };
}

/** Where the good lots never differed and the bad ones do, nothing is more unusual. */
const rankOf = ({ score }: UnusualFactor) => (score === null ? Infinity : Math.abs(score));

/** One factor of bad and good lots; nothing where it is not on record for enough of them. */
function factorOf(rows: readonly FactorRow[], isBad: ReadonlySet<number>): UnusualFactor | null {
  const bad = rows.filter(({ lotId }) => isBad.has(lotId));
  const good = rows.filter(({ lotId }) => !isBad.has(lotId));
  const [first] = bad;
  if (first === undefined || new Set(good.map(({ lotId }) => lotId)).size < FEWEST_GOOD) return null;
  const about = { name: first.name, unit: first.unit };
  return first.value === null
    ? { ...about, ...nameOf(bad, good) }
    : { ...about, ...figureOf(valuesOf(bad), valuesOf(good)) };
}
const valuesOf = (rows: readonly FactorRow[]) => rows.flatMap(({ value }) => value ?? []);

function figureOf(bad: number[], good: number[]): Pick<UnusualFactor, 'score' | 'figures' | 'named'> {
  const sorted = bad.toSorted((one, other) => one - other);
  const middle = sorted[Math.floor((sorted.length - 1) / 2)] ?? NaN;
  const { score, median, spread } = robustScore({ value: middle, history: good });
  return {
    // All the same, bad ones too: nothing about it is unusual.
    score: score === null && middle === median ? 0 : score,
    ...{ figures: { bad, good, median, spread }, named: null },
  };
}

/** The name of the bad lots that chance would give least often. */
function nameOf(
  bad: readonly FactorRow[],
  good: readonly FactorRow[],
): Pick<UnusualFactor, 'score' | 'figures' | 'named'> {
  const lotsOf = (rows: readonly FactorRow[], word?: string) =>
    new Set(rows.filter((row) => word === undefined || row.word === word).map(({ lotId }) => lotId)).size;
  const [badOf, goodOf] = [lotsOf(bad), lotsOf(good)];
  const [named] = [...new Set(bad.flatMap(({ word }) => word ?? []))]
    .map((value) => {
      const counts = { bad: lotsOf(bad, value), good: lotsOf(good, value) };
      const { probability } = hypergeometricTail({
        ...{ total: badOf + goodOf, withTrait: counts.bad + counts.good },
        ...{ drawn: badOf, drawnWithTrait: counts.bad },
      });
      return { value, ...counts, badOf, goodOf, probability };
    })
    .toSorted((one, other) => one.probability - other.probability);
  const { score } = scoreOfTail({ probability: named?.probability ?? 1 });
  return { score, figures: null, named: named ?? null };
}
