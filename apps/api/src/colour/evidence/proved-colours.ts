import {
  gradeDecides,
  trialDecides,
  type ColourClass,
  type ColourGrade,
  type CouponOutcome,
  type CouponTrial,
  type EvidenceKind,
  type EvidenceVerdict,
  type Lab,
} from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import { couponsAt } from './coverage.ts';
import {
  alloyInWords,
  alloysOf,
  labelOf,
  readJudged,
  speaksFor,
  verdictOn,
  type JudgedEvidence,
} from './judge.ts';
import * as queries from './queries.ts';

/** What the evidence of a revision says of its colour on one alloy that it is proved on. */
export interface ProvedColour {
  revisionId: number;
  alloy: queries.MaterialRow;
  grade: ColourGrade;
  class: ColourClass | null;
  /** Of first articles and trial lots before coupons; null where nothing was measured. */
  lab: { lab: Lab; from: EvidenceKind; count: number } | null;
  coupons: number;
  trialLots: number;
  firstArticles: number;
  expiresOn: string | null;
  records: { kind: EvidenceKind; label: string; seriesId: number | null; lotId: number | null }[];
}

export interface ProvedRevision {
  revisionId: number;
  colours: ProvedColour[];
  /** Of the material that was asked for; null where none was. */
  verdict: EvidenceVerdict | null;
}

/**
 * The colours of recipe revisions on every alloy that they are proved on. With a material also whether each is proved on
 * it, and on which near one where not.
 *
 * @example
 * const [revision] = await readProvedColours(execute, { revisionIds: [4] });
 * revision?.colours[0]?.lab?.lab // { L: 42.9, a: 9.1, b: -42.1 }
 */
export async function readProvedColours(
  execute: SqlExecutor,
  { revisionIds, materialId = null }: { revisionIds: readonly number[]; materialId?: number | null },
): Promise<ProvedRevision[]> {
  const [{ items, steps, trials }, [material]] = await Promise.all([
    readJudged(execute, revisionIds),
    queries.readMaterials(execute, materialId === null ? [] : [materialId]),
  ]);
  const itemsOf = byRevision(items);
  const stepsOf = byRevision(steps);
  return revisionIds.map((revisionId) => {
    const own = itemsOf.get(revisionId) ?? [];
    const ownSteps = stepsOf.get(revisionId) ?? [];
    const asked = { items: own, positions: ownSteps.map(({ position }) => position) };
    const colours = alloysOf(own)
      .filter((alloy) => verdictOn(alloy, asked).state === 'proved')
      .map((alloy) => ({
        revisionId,
        alloy,
        ...proofOf(alloy, { items: own, steps: ownSteps, trials }),
      }));
    return { revisionId, colours, verdict: material === undefined ? null : verdictOn(material, asked) };
  });
}

/**
 * What the evidence of each revision was measured to be, on the alloy that most of it is of.
 *
 * @example
 * (await readMeasured(execute, [4])).get(4) // { lab: { L: 42.9, a: 9.1, b: -42.1 }, alloy: 'Titanium grade 2, annealed' }
 */
export async function readMeasured(
  execute: SqlExecutor,
  revisionIds: readonly number[],
): Promise<Map<number, { lab: Lab; alloy: string }>> {
  const measured = new Map<number, { lab: Lab; alloy: string }>();
  for (const { revisionId, colours } of await readProvedColours(execute, { revisionIds })) {
    const [best] = colours
      .flatMap(({ lab, alloy, coupons }) => (lab === null ? [] : [{ lab: lab.lab, alloy, coupons }]))
      .toSorted((one, other) => other.coupons - one.coupons);
    if (best !== undefined) measured.set(revisionId, { lab: best.lab, alloy: alloyInWords(best.alloy) });
  }
  return measured;
}

function byRevision<T extends { revisionId: number }>(rows: readonly T[]): Map<number, T[]> {
  const groups = new Map<number, T[]>();
  for (const row of rows) {
    const group = groups.get(row.revisionId);
    if (group === undefined) groups.set(row.revisionId, [row]);
    else group.push(row);
  }
  return groups;
}

/** What the evidence of one alloy amounts to, and the colour that it was measured to be. */
export function proofOf(
  alloy: queries.MaterialRow,
  {
    items,
    steps,
    trials,
  }: {
    items: readonly JudgedEvidence[];
    steps: readonly queries.ColourStep[];
    trials: ReadonlyMap<number, CouponTrial[]>;
  },
): Omit<ProvedColour, 'revisionId' | 'alloy'> {
  const own = items.filter(
    (item) =>
      item.steps.length > 0 &&
      gradeDecides(item.grade) &&
      item.alloy.name === alloy.name &&
      item.alloy.condition === alloy.condition,
  );
  // The last colour step leaves the colour that is seen.
  const last = steps.at(-1);
  const coupons = own
    .filter(({ kind, contents }) => kind === 'coupons' && contents === last?.contents)
    .flatMap((item) =>
      last === undefined
        ? []
        : couponsAt(last, trials.get(item.series?.id ?? 0) ?? []).filter((trial) => speaksFor(item, trial)),
    );
  const days = own.map(({ expiresOn }) => expiresOn);
  return {
    grade: own.some(({ grade }) => grade === 'measured') ? 'measured' : 'compared',
    class: classOf(coupons),
    lab: labOf(own, coupons),
    coupons: own.reduce((sum, { kind, pieces }) => sum + (kind === 'coupons' ? pieces : 0), 0),
    trialLots: own.filter(({ kind }) => kind === 'trial-lot').length,
    firstArticles: own.filter(({ kind }) => kind === 'first-article').length,
    expiresOn: days.includes(null) ? null : (days.toSorted().at(-1) ?? null),
    records: own.map((item) => ({
      kind: item.kind,
      label: labelOf(item),
      seriesId: item.series?.id ?? null,
      lotId: item.lot?.id ?? null,
    })),
  };
}

/** Gold to brown is the beginning of a dark film. */
const classes: Partial<Record<CouponOutcome, ColourClass>> = {
  interference: 'interference',
  'gold-brown': 'dark',
  dark: 'dark',
  dyed: 'dyed',
};

/** What most of the coupons near the step showed. */
function classOf(coupons: readonly CouponTrial[]): ColourClass | null {
  if (coupons.length === 0) return null;
  const most = (['interference', 'dark', 'dyed'] as const).map((kind) => ({
    kind,
    count: coupons.filter(({ outcome }) => outcome !== null && classes[outcome] === kind).length,
  }));
  return most.toSorted((one, other) => other.count - one.count)[0]?.kind ?? null;
}

function labOf(own: readonly JudgedEvidence[], coupons: readonly CouponTrial[]): ProvedColour['lab'] {
  for (const from of ['first-article', 'trial-lot'] as const) {
    const read = own.flatMap(({ kind, lab }) => (kind === from && lab !== null ? [lab] : []));
    if (read.length > 0) return { lab: meanOf(read), from, count: read.length };
  }
  const measured = coupons.flatMap((trial) => (trial.lab !== null && trialDecides(trial) ? [trial.lab] : []));
  return measured.length === 0 ? null : { lab: meanOf(measured), from: 'coupons', count: measured.length };
}

function meanOf(labs: readonly Lab[]): Lab {
  const mean = (axis: keyof Lab) => labs.reduce((sum, lab) => sum + lab[axis], 0) / labs.length;
  return { L: mean('L'), a: mean('a'), b: mean('b') };
}
