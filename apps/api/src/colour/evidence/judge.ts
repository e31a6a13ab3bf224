import {
  colourGradeNames,
  gradeDecides,
  trialDecides,
  type CitedEvidence,
  type CouponTrial,
  type EvidenceVerdict,
} from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { readTrials } from '../coupons/index.ts';
import { aimsInWords, couponsAt } from './coverage.ts';
import type { ColourStep } from './queries.ts';
import * as queries from './queries.ts';

/** A piece of evidence, and the colour steps that it proves. */
export interface JudgedEvidence extends queries.EvidenceRow {
  gaps: string[];
  /** Positions of the colour steps it proves; empty where it has gaps. */
  steps: number[];
}
type Alloy = Pick<queries.MaterialRow, 'name' | 'condition'> & { id: number };

const plain = (text: string) => text.normalize('NFKC').trim().replaceAll(/\s+/g, ' ').toLowerCase();

/** `Carbon steel 1075, hardened` */
export const alloyInWords = ({ name, condition }: { name: string; condition: string }) =>
  [name, condition].filter(Boolean).join(', ');

/** `32 coupons` */
export const piecesInWords = ({
  kind,
  pieces,
  elsewhere = null,
}: Pick<CitedEvidence, 'kind' | 'pieces'> & Partial<Pick<CitedEvidence, 'elsewhere'>>): string =>
  elsewhere !== null
    ? piecesInWords({ kind: elsewhere.provedBy, pieces })
    : kind === 'coupons'
      ? `${pieces} ${pieces === 1 ? 'coupon' : 'coupons'}`
      : `${pieces} ${pieces === 1 ? 'piece' : 'pieces'} of a ${kind === 'first-article' ? 'first article' : 'trial lot'}`;

export const labelOf = ({ series, lot, elsewhere }: Pick<CitedEvidence, 'series' | 'lot' | 'elsewhere'>) =>
  series === null ? (lot?.number ?? elsewhere?.label ?? '') : `${series.code} rev ${series.revision}`;

/** Why a piece of evidence proves none of the colour steps; the steps that it proves where it does. */
function weigh(
  row: queries.EvidenceRow,
  { steps, trials }: { steps: readonly ColourStep[]; trials: readonly CouponTrial[] },
): Pick<JudgedEvidence, 'gaps' | 'steps'> {
  const refused = [
    ...(row.withdrawn === null ? [] : [`withdrawn by ${row.withdrawn.by}: ${row.withdrawn.reason}`]),
    ...(row.isExpired ? [`expired on ${row.expiresOn}`] : []),
    ...(gradeDecides(row.grade)
      ? []
      : [`${colourGradeNames[row.grade]}: only a measured or compared colour proves`]),
    ...(row.series?.status === 'retired' ? [`${labelOf(row)} was retired`] : []),
    ...(steps.length === 0 ? ['the recipe has no colour step yet'] : []),
  ];
  if (row.elsewhere !== null)
    return {
      gaps: [
        ...refused,
        `proved at ${row.elsewhere.shop || 'another shop'} on ${alloyInWords(row.alloy)} (${piecesInWords(row)}), not here: it takes a first article or coupons of this shop`,
      ],
      steps: [],
    };
  if (refused.length > 0) return { gaps: refused, steps: [] };
  if (row.kind !== 'coupons') return { gaps: [], steps: steps.map(({ position }) => position) };
  const near = steps.filter((step) => step.contents === row.contents && couponsAt(step, trials).length > 0);
  return {
    gaps: near.length > 0 ? [] : steps.map((step) => `no coupon took a colour at ${aimsInWords(step)}`),
    steps: near.map(({ position }) => position),
  };
}

/**
 * Whether a coupon speaks in a citation: photos and words never do, and of a series cited as measured only what was measured.
 * Coupons that were entered before their grades were asked were compared where those who cite the series compared it.
 */
export function speaksFor({ grade }: Pick<CitedEvidence, 'grade'>, trial: CouponTrial): boolean {
  if (grade === 'measured') return trialDecides(trial) && trial.lab !== null;
  return trial.grade === null || trialDecides(trial);
}

/** Every piece of evidence of revisions, with what it proves as things stand. */
export async function readJudged(
  execute: SqlExecutor,
  revisionIds: readonly number[],
): Promise<{
  items: JudgedEvidence[];
  steps: (ColourStep & { revisionId: number })[];
  trials: Map<number, CouponTrial[]>;
}> {
  const [rows, steps] = await Promise.all([
    queries.readEvidence(execute, revisionIds),
    queries.readColourSteps(execute, revisionIds),
  ]);
  const trials = await readTrials(
    execute,
    rows.flatMap(({ series }) => series?.id ?? []),
  );
  const items = rows.map((row) => {
    const own = steps.filter(({ revisionId }) => revisionId === row.revisionId);
    const all = trials.get(row.series?.id ?? 0) ?? [];
    const tried = all.filter((trial) => speaksFor(row, trial));
    return { ...row, ...weigh(row, { steps: own, trials: tried }) };
  });
  return { items, steps, trials };
}

/** The alloys that evidence is of, each in its condition, once. */
export function alloysOf(items: readonly JudgedEvidence[]): queries.MaterialRow[] {
  const alloys = new Map<string, queries.MaterialRow>();
  for (const { materialId, alloy } of items)
    alloys.set(`${alloy.name}|${alloy.condition}`.toLowerCase(), { id: materialId, ...alloy });
  return [...alloys.values()];
}

/**
 * Whether evidence is of an alloy in its condition. The alloy may have been renamed since; another condition is another
 * surface.
 */
const isOf = (item: JudgedEvidence, wanted: Alloy) =>
  plain(item.alloy.condition) === plain(wanted.condition) &&
  (item.materialId === wanted.id || plain(item.alloy.name) === plain(wanted.name));

/**
 * Whether a recipe revision is proved on a material in its condition. All of its colour steps must be: by coupons made
 * within the limits of the step, or by a lot of this very revision. Otherwise the nearest that it is proved on is named.
 *
 * @example
 * const [verdict] = await judgeEvidence(execute, [{ recipeRevisionId: 4, materialId: 7, partId: null }]);
 * verdict?.words // 'proved on Carbon steel 1075, hardened (32 coupons); this part is Steel 4140: none'
 */
export async function judgeEvidence(
  execute: SqlExecutor,
  wanted: readonly {
    recipeRevisionId: number;
    materialId: number;
    /** The part, whose zones of another condition have to be proved too; null where only a material is asked about. */
    partId: number | null;
    /** The alloy as a lot was released with it; without it as it is called now. */
    alloy?: { name: string; condition: string; baseMetal: string };
  }[],
): Promise<EvidenceVerdict[]> {
  const revisionIds = [...new Set(wanted.map(({ recipeRevisionId }) => recipeRevisionId))];
  const [{ items, steps }, materials, zones] = await Promise.all([
    readJudged(execute, revisionIds),
    queries.readMaterials(execute, [...new Set(wanted.map(({ materialId }) => materialId))]),
    queries.readZoneMaterials(
      execute,
      wanted.flatMap(({ partId }) => partId ?? []),
    ),
  ]);
  return wanted.map(({ recipeRevisionId, materialId, partId, alloy }) => {
    const known = {
      items: items.filter(({ revisionId }) => revisionId === recipeRevisionId),
      positions: steps
        .filter(({ revisionId }) => revisionId === recipeRevisionId)
        .map(({ position }) => position),
    };
    const material =
      alloy === undefined
        ? orNotFound(
            materials.find(({ id }) => id === materialId),
            `material ${materialId}`,
          )
        : { id: materialId, ...alloy };
    const own = zones.filter((zone) => zone.partId === partId);
    return withZones(
      verdictOn(material, known),
      own.map((zone) => ({ zone: zone.zone, verdict: verdictOn(zone, known) })),
    );
  });
}

/** A part is proved where all of it is; else the first place that is not proved is named. */
function withZones(
  whole: EvidenceVerdict,
  zones: readonly { zone: string; verdict: EvidenceVerdict }[],
): EvidenceVerdict {
  const unproved = zones.find(({ verdict }) => verdict.state !== 'proved');
  if (whole.state !== 'proved' || unproved === undefined) {
    const also = zones.map(({ zone, verdict }) => `; ${zone}: ${verdict.words}`).join('');
    return { ...whole, words: `${whole.words}${also}` };
  }
  return { ...unproved.verdict, words: `${unproved.zone}: ${unproved.verdict.words}` };
}

/** What the evidence of one revision says of one material. */
export function verdictOn(
  material: queries.MaterialRow,
  { items, positions }: { items: readonly JudgedEvidence[]; positions: readonly number[] },
): EvidenceVerdict {
  const { name, condition } = material;
  const own = items.filter((item) => isOf(item, material));
  const counts = own.filter(({ steps }) => steps.length > 0);
  const open = positions.filter((position) => !counts.some(({ steps }) => steps.includes(position)));
  const of = { alloy: name, condition };
  const [best] = counts.toSorted((one, other) => other.pieces - one.pieces);
  if (best !== undefined && open.length === 0) {
    return {
      ...of,
      state: 'proved',
      evidence: refOf(best),
      words: `proved on ${alloyInWords(material)}: ${counts.map(piecesInWords).join(', ')}`,
    };
  }
  const partly = best !== undefined ? [`step ${open.join(' and ')} is not`] : [];
  const spent = [...new Set(own.flatMap(({ gaps }) => gaps))];
  const why = [...partly, ...spent].join('; ');
  const [nearest] = items
    .filter(({ steps, id }) => steps.length > 0 && !own.some((one) => one.id === id))
    .toSorted(
      (one, other) => nearness(other, material) - nearness(one, material) || other.pieces - one.pieces,
    );
  const afar = items
    .filter(
      ({ elsewhere, id, withdrawn }) =>
        elsewhere !== null && withdrawn === null && !own.some((one) => one.id === id),
    )
    .map(
      (item) =>
        `; proved at ${item.elsewhere?.shop || 'another shop'} on ${alloyInWords(item.alloy)} (${piecesInWords(item)}), not here`,
    );
  const lacking = `this part is ${alloyInWords(material)}: none${why === '' ? '' : ` (${why})`}${[...new Set(afar)].join('')}`;
  if (nearest === undefined)
    return { ...of, state: 'none', evidence: null, words: `proved on nothing; ${lacking}` };
  const { alloy } = nearest;
  return {
    ...of,
    state: 'nearest',
    evidence: refOf(nearest),
    words: `proved on ${alloyInWords(alloy)} (${piecesInWords(nearest)}); ${lacking}`,
  };
}

const nearness = ({ alloy }: JudgedEvidence, wanted: queries.MaterialRow) =>
  (alloy.baseMetal === wanted.baseMetal ? 2 : 0) + (plain(alloy.name) === plain(wanted.name) ? 1 : 0);

const refOf = (item: JudgedEvidence): NonNullable<EvidenceVerdict['evidence']> => ({
  label: labelOf(item),
  alloy: item.alloy.name,
  condition: item.alloy.condition,
  pieces: item.pieces,
  seriesId: item.series?.id ?? null,
  lotId: item.lot?.id ?? null,
});
