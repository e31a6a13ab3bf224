import type { CitedEvidence, ProposedLimit, RecipeEvidence } from '@huelot/contracts';
import { baseMetalNames, gradeDecides, type BaseMetal } from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { readOrderedAlloys } from '../../catalog/recipes/index.ts';
import { readTrials } from '../coupons/index.ts';
import { readExceptionsOfRevision } from './exception-queries.ts';
import { alloysOf, readJudged, verdictOn, type JudgedEvidence } from './judge.ts';
import { proposeLimits, TOLERANCE_DELTA_E } from './limits.ts';
import { proofOf } from './proved-colours.ts';
import * as queries from './queries.ts';

/** What stands behind one revision, what it is proved on, and what its approval takes. */
export async function readRecipeEvidence(execute: SqlExecutor, revisionId: number): Promise<RecipeEvidence> {
  const [found] = await queries.readRevisions(execute, [revisionId]);
  const revision = orNotFound(found, `recipe revision ${revisionId}`);
  const [{ items, steps, trials }, exceptions, ordered, before] = await Promise.all([
    readJudged(execute, [revisionId]),
    readExceptionsOfRevision(execute, revisionId),
    readOrderedAlloys(execute, [revision.recipeId]),
    queries.readRevisionBefore(execute, revision),
  ]);
  const positions = steps.map(({ position }) => position);
  const verdicts = alloysOf(items).map((alloy) => ({
    alloy,
    verdict: verdictOn(alloy, { items, positions }),
  }));
  const provedOn = verdicts
    .filter(({ verdict }) => verdict.state === 'proved')
    .map(({ alloy }) => toProved(alloy, { items, steps, trials }));
  const metals = new Set(
    verdicts.filter(({ verdict }) => verdict.state === 'proved').map(({ alloy }) => alloy.baseMetal),
  );
  const orderedOpen = (ordered.get(revision.recipeId) ?? [])
    .map((alloy) => ({ alloy, verdict: verdictOn(alloy, { items, positions }) }))
    .filter(({ verdict }) => verdict.state !== 'proved');
  const metalsOpen = revision.baseMetals.filter((metal) => !metals.has(metal));
  const limits = await limitsOf(execute, { items, steps });
  return {
    items: items.map(toCited),
    provedOn,
    notProved: [
      ...orderedOpen.map(({ alloy: { name, condition }, verdict }) => ({
        ...{ alloy: name, condition },
        why: `ordered in this recipe; ${verdict.words}`,
      })),
      ...metalsOpen.map((metal) => ({
        alloy: baseMetalNames[metal as BaseMetal],
        condition: '',
        why: 'a metal of this recipe: no evidence on any alloy of it',
      })),
    ],
    limits,
    toleranceDeltaE: TOLERANCE_DELTA_E,
    approvalNeeds: approvalNeeds({ provedOn, limits, items }),
    exceptions,
    before: await openBefore(execute, { before, items }),
  };
}

function approvalNeeds({
  provedOn,
  limits,
  items,
}: Pick<RecipeEvidence, 'provedOn' | 'limits'> & { items: readonly JudgedEvidence[] }): string[] {
  const figure = (value: number | null) => (value === null ? 'open' : Number(value.toFixed(2)).toString());
  const why = [...new Set(items.flatMap(({ gaps }) => gaps))];
  return [
    ...(provedOn.length > 0
      ? []
      : [why.length === 0 ? 'No evidence is cited.' : `No evidence proves it: ${why.join('; ')}.`]),
    ...limits
      .filter(({ isWider }) => isWider)
      .map(
        ({ title, quantity, low, high, proposed }) =>
          `${title}: ${quantity} ${figure(low)} to ${figure(high)} is wider than the coupons hold, ${figure(proposed.low)} to ${figure(proposed.high)}.`,
      ),
  ];
}

function toProved(alloy: queries.MaterialRow, judged: Awaited<ReturnType<typeof readJudged>>) {
  const own = judged.items.filter(
    (item) =>
      item.steps.length > 0 && item.alloy.name === alloy.name && item.alloy.condition === alloy.condition,
  );
  const lots = own.filter(({ kind }) => kind !== 'coupons');
  const { coupons, grade, expiresOn, lab } = proofOf(alloy, judged);
  return {
    ...{ alloy: alloy.name, condition: alloy.condition, coupons, grade, expiresOn },
    pieces: lots.reduce((total, { pieces }) => total + pieces, 0),
    lab: lab?.lab ?? null,
  };
}
const toCited = ({
  steps: _,
  revisionId: __,
  materialId: ___,
  source: ____,
  ...item
}: JudgedEvidence): CitedEvidence => item;

/** What each series proposes; of two that vary the same setting the narrower range stands. */
async function limitsOf(
  execute: SqlExecutor,
  { items, steps }: Pick<Awaited<ReturnType<typeof readJudged>>, 'items' | 'steps'>,
): Promise<ProposedLimit[]> {
  const series = items.filter(({ steps: proves, grade }) => proves.length > 0 && gradeDecides(grade));
  const trials = await readTrials(
    execute,
    series.flatMap(({ series: cited }) => cited?.id ?? []),
  );
  const all = steps.flatMap((step) =>
    series
      .filter(({ steps: proves, contents }) => proves.includes(step.position) && contents === step.contents)
      .flatMap(({ series: cited }) => proposeLimits(step, trials.get(cited?.id ?? 0) ?? [])),
  );
  return all.filter(
    (one) =>
      !all.some(
        (other) =>
          other !== one &&
          other.position === one.position &&
          other.quantity === one.quantity &&
          (widthOf(other) < widthOf(one) ||
            (widthOf(other) === widthOf(one) && all.indexOf(other) < all.indexOf(one))),
      ),
  );
}
const widthOf = ({ proposed }: ProposedLimit) => proposed.high - proposed.low;

async function openBefore(
  execute: SqlExecutor,
  { before, items }: { before: { id: number; revision: number } | null; items: readonly JudgedEvidence[] },
): Promise<RecipeEvidence['before']> {
  if (before === null) return null;
  const rows = await queries.readEvidence(execute, [before.id]);
  const cited = (row: queries.EvidenceRow) =>
    items.some(({ source, withdrawn }) => withdrawn === null && source === row.source);
  const count = rows.filter((row) => row.withdrawn === null && !cited(row)).length;
  return count === 0 ? null : { ...before, count };
}
