import { deltaE2000 } from '@huelot/calc';
import {
  NEAR_DELTA_E,
  type CatalogueColour,
  type ColourClass,
  type exportColourCatalogue,
  type Lab,
} from '@huelot/contracts';
import type { z } from 'zod';
import { readProvedColours, type ProvedColour, type ProvedRevision } from '../../colour/evidence/index.ts';
import type { SqlExecutor } from '../../db/client.ts';
import { fieldError } from '../../kernel/refusal.ts';
import * as queries from './queries.ts';

export type CatalogueQuery = z.output<typeof exportColourCatalogue.query>;

/** Where a row stands in the list: nearest first where a colour was asked for, else by metal, alloy and name. */
export type RowKey = readonly [number, string, string];
export interface CatalogueRow {
  key: RowKey;
  colour: CatalogueColour;
}

/** Whether one row stands behind another. */
export function isAfter(key: RowKey, before: RowKey): boolean {
  for (const index of [0, 1, 2] as const) {
    if (key[index] > before[index]) return true;
    if (key[index] < before[index]) return false;
  }
  return false;
}

/**
 * Every colour of an approved recipe that fits what was asked, in order; prices and the last lot are read for the rows
 * that are shown, with {@link withRecords}.
 */
export async function readCatalogue(execute: SqlExecutor, query: CatalogueQuery): Promise<CatalogueRow[]> {
  const wanted = wantedColour(query);
  const material =
    query.materialId === undefined ? null : await queries.readMaterial(execute, query.materialId);
  if (query.materialId !== undefined && material === null)
    throw fieldError('materialId', `there is no material ${query.materialId}`);
  const { search = '', family, baseMetal = material?.baseMetal } = query;
  const approved = await queries.readApproved(execute, {
    search,
    ...(family === undefined ? {} : { family }),
    ...(baseMetal === undefined ? {} : { baseMetal }),
  });
  if (material !== null && baseMetal !== material.baseMetal) return [];
  const revisionIds = approved.map(({ id }) => id);
  const [proved, spreads] = await Promise.all([
    readProvedColours(execute, { revisionIds, materialId: material?.id ?? null }),
    queries.readSpreads(execute, revisionIds),
  ]);
  const found = approved.flatMap((recipe, index) => {
    const revision = proved[index];
    return revision === undefined
      ? []
      : coloursShown(revision, material).flatMap((colour) =>
          measuredAs(recipe, { colour, spreads }).map((measured) =>
            toColour(recipe, { colour, revision, measured }),
          ),
        );
  });
  return found
    .filter(
      ({ alloy, grade }) =>
        (baseMetal === undefined || alloy === null || alloy.baseMetal === baseMetal) &&
        (query.grade === undefined || grade === query.grade),
    )
    .map((colour) => ({ ...colour, distance: distanceFrom(wanted, colour) }))
    .filter(({ distance }) => wanted === null || (distance ?? Infinity) <= wanted.within)
    .map((colour) => ({ key: keyOf(colour), colour }))
    .toSorted((one, other) => (isAfter(one.key, other.key) ? 1 : -1));
}

/** On a material the colour of the alloy that its answer rests on, else of every alloy; one without where there is none. */
function coloursShown(
  { colours, verdict }: ProvedRevision,
  material: { id: number } | null,
): (ProvedColour | null)[] {
  if (material === null) return colours.length === 0 ? [null] : colours;
  const rests = verdict?.evidence ?? null;
  return [
    colours.find(({ alloy }) => verdict?.state === 'proved' && alloy.id === material.id) ??
      colours.find(
        ({ alloy }) => rests !== null && alloy.name === rests.alloy && alloy.condition === rests.condition,
      ) ??
      null,
  ];
}

function wantedColour({ L, a, b, within }: CatalogueQuery): (Lab & { within: number }) | null {
  const figures = { L, a, b };
  if (L !== undefined && a !== undefined && b !== undefined)
    return { L, a, b, within: within ?? NEAR_DELTA_E };
  const missing = (['L', 'a', 'b'] as const).filter((name) => figures[name] === undefined);
  if (missing.length < 3) throw fieldError(missing[0] ?? 'L', 'must be given with the other two figures');
  if (within !== undefined) throw fieldError('within', 'needs L, a and b');
  return null;
}

const distanceFrom = (wanted: Lab | null, { colour }: CatalogueColour) =>
  wanted === null || colour === null ? null : deltaE2000(wanted, colour.lab);

const keyOf = ({ distance, verdict, alloy, baseMetals, recipe, id }: CatalogueColour): RowKey => [
  distance ?? (verdict === null ? 0 : { proved: 0, nearest: 1, none: 2 }[verdict.state]),
  [alloy?.baseMetal ?? baseMetals[0], alloy?.name ?? '~', alloy?.condition ?? '', recipe.name].join('|'),
  id,
];

/** The colours that lots of a revision were read to have on an alloy, by standard; one without where none was read. */
function measuredAs(
  { id }: queries.ApprovedRow,
  { colour, spreads }: { colour: ProvedColour | null; spreads: readonly queries.SpreadRow[] },
): (queries.SpreadRow | undefined)[] {
  const own = spreads.filter((row) => row.revisionId === id && row.materialId === colour?.alloy.id);
  return own.length === 0 ? [undefined] : own;
}

function toColour(
  recipe: queries.ApprovedRow,
  {
    colour,
    revision,
    measured,
  }: {
    colour: ProvedColour | null;
    revision: ProvedRevision;
    measured: queries.SpreadRow | undefined;
  },
): CatalogueColour {
  const { id, recipeId, number, name, revision: of, family, baseMetals, words } = recipe;
  const standard = measured?.standard ?? null;
  return {
    id: [id, colour?.alloy.id ?? 0, colour?.alloy.condition ?? '', ...(standard ? [standard.id] : [])].join(
      '-',
    ),
    standard,
    recipe: { id, recipeId, number, name, revision: of },
    ...{ family, baseMetals, words },
    class: classOf(family, colour),
    alloy:
      colour === null
        ? null
        : {
            materialId: colour.alloy.id,
            name: colour.alloy.name,
            condition: colour.alloy.condition,
            baseMetal: colour.alloy.baseMetal as queries.ApprovedRow['baseMetals'][number],
          },
    colour:
      measured !== undefined
        ? { lab: measured.lab, from: 'lots', count: measured.readings, conditions: measured.conditions }
        : colour?.lab
          ? { ...colour.lab, conditions: null }
          : null,
    grade: colour?.grade ?? null,
    proof: {
      coupons: colour?.coupons ?? 0,
      trialLots: colour?.trialLots ?? 0,
      firstArticles: colour?.firstArticles ?? 0,
      expiresOn: colour?.expiresOn ?? null,
      records: colour?.records ?? [],
    },
    spread:
      measured === undefined || measured.readings < 2
        ? null
        : { deltaEab: measured.deltaEab, readings: measured.readings, lots: measured.lots },
    ...{ price: null, lastMade: null, distance: null },
    verdict: revision.verdict,
  };
}

/** Of caustic colour what the coupons showed; the other families say it themselves. */
function classOf(family: queries.ApprovedRow['family'], colour: ProvedColour | null): ColourClass | null {
  if (family === 'dyed-anodize') return 'dyed';
  return family === 'interference-colour' ? 'interference' : (colour?.class ?? null);
}

/** Rows with what records say of them: the last lot, and for those who may see them the prices that were quoted. */
export async function withRecords(
  execute: SqlExecutor,
  colours: readonly CatalogueColour[],
  { mayPrice }: { mayPrice: boolean },
): Promise<CatalogueColour[]> {
  const pairs = colours.flatMap(({ recipe, alloy }) =>
    alloy === null ? [] : [{ revisionId: recipe.id, materialId: alloy.materialId }],
  );
  if (pairs.length === 0) return [...colours];
  const [prices, lots] = await Promise.all([
    mayPrice ? queries.readPrices(execute, pairs) : [],
    queries.readLastMade(execute, pairs),
  ]);
  return colours.map((colour) => {
    const isOf = ({ revisionId, materialId }: queries.Pair) =>
      revisionId === colour.recipe.id && materialId === colour.alloy?.materialId;
    const price = prices.find(isOf);
    const made = lots.find(isOf);
    return {
      ...colour,
      price:
        price === undefined
          ? null
          : { low: price.low, high: price.high, currency: price.currency, lines: price.lines },
      lastMade: made === undefined ? null : { lotId: made.lotId, lot: made.lot, at: made.at },
    };
  });
}
