import { bestTriedSetting, colourDrift } from '@huelot/calc';
import {
  type BathColour,
  type BathComponent,
  type ColourGap,
  type ColourNow,
  programmeSeconds,
  type RecipeRevision,
  type Step,
  type TankContents,
  TankSetting,
} from '@huelot/contracts';
import type { Db } from '../../db/client.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { type BathStanding, readBath, readBathStatuses } from '../../lab/baths/index.ts';
import { type OrderedAlloy, readOrderedAlloys, readUsableRevisions } from '../../catalog/recipes/index.ts';
import { readTank } from '../../catalog/equipment/index.ts';
import * as queries from './queries.ts';
import { isLookedAt, type LookedAt, toStrengthTrial } from './strength-trials.ts';

/** How the bath stands, and when its strength was last changed on purpose. */
interface Present extends BathStanding {
  lastAddedAt: Date | null;
}
interface Tried {
  row: queries.SeriesRow;
  trials: LookedAt[];
}

/**
 * What the strength of a bath does to colour now: for the colour step of every approved recipe that runs in it, alloy by
 * alloy, and for every approved coupon series that no recipe uses, where it was tried most. A fill that was dumped colours
 * nothing.
 */
export async function viewBathColour(db: Db, bathId: number): Promise<BathColour> {
  const bath = orNotFound(await readBath(db.execute, bathId), `bath ${bathId}`);
  const tank = orNotFound(await readTank(db, bath.tankId), `tank ${bath.tankId}`);
  if (tank.kind !== 'electrolytic' || bath.dumpedAt !== null) return { colours: false, items: [] };
  const standing: Present = {
    ...orNotFound((await readBathStatuses(db.execute, [bath])).get(bathId), `bath ${bathId}`),
    lastAddedAt: await queries.readLastAdded(db.execute, bathId),
  };
  const rows = await queries.readApproved(db.execute, bath.contents);
  const trials = await queries.readTrials(
    db.execute,
    rows.map(({ id }) => id),
  );
  const tried = rows.map((row): Tried => ({ row, trials: (trials.get(row.id) ?? []).filter(isLookedAt) }));
  const used = (await readUsableRevisions(db)).flatMap((revision) =>
    stepsIn(revision, bath.contents).map((step) => ({ revision, step })),
  );
  const alloys = await readOrderedAlloys(
    db.execute,
    used.map(({ revision }) => revision.recipe.id),
  );
  const ofRecipes = used.flatMap(({ revision, step }) =>
    itemsOf({ revision, step, tried, standing, alloys: alloys.get(revision.recipe.id) ?? [] }),
  );
  const seriesUsed = new Set(ofRecipes.map(({ series }) => series?.id));
  const ofSeries = tried
    .filter(({ row }) => !seriesUsed.has(row.id))
    .map((one) => ({
      ...bare,
      baseMetals: [one.row.material.baseMetal],
      ...predicted({ ...one, standing, setting: null }),
    }));
  return { colours: true, items: [...ofRecipes, ...ofSeries] };
}

const stepsIn = ({ steps }: RecipeRevision, contents: TankContents) =>
  steps.filter((step) => step.kind === 'colour' && step.contents === contents);

const bare: ColourNow = {
  recipe: null,
  baseMetals: [],
  alloy: null,
  series: null,
  setting: null,
  strength: null,
  outcome: null,
  colour: null,
  gap: null,
  support: null,
};

/**
 * One item for each alloy that was ordered in the recipe and each series of coupons of just that alloy: another of the same
 * metal takes another colour. Of a metal that was not ordered yet, one for each series, which then names its own alloy.
 */
function itemsOf(options: {
  revision: RecipeRevision;
  step: Step;
  tried: readonly Tried[];
  standing: Present;
  alloys: readonly OrderedAlloy[];
}): ColourNow[] {
  const { revision, step, tried, standing, alloys } = options;
  const { id, number, name, baseMetals } = revision.recipe;
  const recipe = { id, number, name, revision: revision.revision, step: step.title };
  const setting = settingOf(step);
  const said = (head: ColourNow, items: readonly Tried[]): ColourNow[] =>
    items.length === 0
      ? [{ ...head, setting, gap: 'no-series' }]
      : items.map(({ row, trials }) =>
          setting === null
            ? { ...head, series: refOf(row), gap: 'no-setting' }
            : { ...head, ...predicted({ row, trials, standing, setting }) },
        );
  const head = { ...bare, recipe };
  const ordered = alloys.flatMap((alloy) =>
    said(
      { ...head, baseMetals: [alloy.baseMetal], alloy: nameOf(alloy) },
      tried.filter(({ row }) => row.material.id === alloy.id),
    ),
  );
  const open = baseMetals
    .filter((metal) => !alloys.some(({ baseMetal }) => baseMetal === metal))
    .flatMap((metal) =>
      said(
        { ...head, baseMetals: [metal] },
        tried.filter(({ row }) => row.material.baseMetal === metal),
      ),
    );
  return [...ordered, ...open];
}

const nameOf = ({ name, condition }: { name: string; condition: string }) =>
  [name, condition].filter(Boolean).join(', ');

/** What a colour step sets; null where it names no temperature, or runs on current and leaves the voltage open. */
export function settingOf({
  settings,
  electrical,
  durationS,
}: Pick<Step, 'settings' | 'electrical' | 'durationS'>): TankSetting | null {
  const aim = (quantity: string) => {
    const setting = settings.find((one) => one.quantity === quantity);
    if (setting === undefined) return undefined;
    const { target, low, high } = setting;
    return target ?? (low === null || high === null ? undefined : (low + high) / 2);
  };
  const held = electrical?.mode === 'voltage' ? electrical.programme.at(-1)?.to : undefined;
  const parsed = TankSetting.safeParse({
    temperatureC: aim('temperatureC'),
    voltageV: aim('voltageV') ?? held,
    timeS: electrical === null ? durationS : programmeSeconds(electrical.programme),
  });
  return parsed.success ? parsed.data : null;
}

const refOf = (row: queries.SeriesRow) => {
  const { id, code, revision, name, component, unit, preparation } = row;
  return { id, code, revision, name, component, unit, preparation, material: nameOf(row.material) };
};

function predicted(
  options: Tried & { standing: Present; setting: TankSetting | null },
): Partial<ColourNow> & Pick<ColourNow, 'series'> {
  const { row, standing } = options;
  const series = refOf(row);
  const watched = standing.setup?.components.find((one) => isOf(row, one));
  const nothing = (gap: ColourGap) => ({ series, setting: options.setting, gap });
  if (watched === undefined) return nothing('strength-not-watched');
  const { target } = watched;
  if (target === null || target <= 0) return nothing('no-target');
  const trials = options.trials.map(toStrengthTrial);
  const setting = options.setting ?? bestTriedSetting({ trials, target });
  if (setting === null) return nothing('few-trials');
  const latest = standing.latest.find(
    (one) =>
      one.component === watched.key &&
      one.unit === watched.unit &&
      one.referenceTemperatureC === watched.referenceTemperatureC,
  );
  if (latest === undefined) return { ...nothing('not-analysed'), setting };
  if (standing.lastAddedAt !== null && Date.parse(latest.sampledAt) < standing.lastAddedAt.getTime())
    return { ...nothing('changed-since'), setting };
  const present = Math.max(0, latest.value);
  const { standardUncertainty, sampledAt, analysisId, analysisNumber } = latest;
  const { outcome, colour, gap, support } = colourDrift({
    trials,
    at: setting,
    target,
    present: { strength: present, standardUncertainty },
  });
  const { nearest, ...counts } = support;
  return {
    series,
    setting,
    strength: {
      ...{ name: watched.name, target, present, standardUncertainty },
      ...{ sampledAt, analysisId, analysisNumber },
    },
    outcome,
    colour,
    gap,
    support: { ...counts, nearest: nearest === null ? null : (options.trials[nearest] ?? null) },
  };
}

const isOf = (row: queries.SeriesRow, component: BathComponent) =>
  component.key === row.component &&
  component.unit === row.unit &&
  component.referenceTemperatureC === row.referenceTemperatureC;
