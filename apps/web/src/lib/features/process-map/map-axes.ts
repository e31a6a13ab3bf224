import { displayUnit, type MapSetting, type MapTrial, type Quantity, type SettingBox } from '@huelot/calc';
import {
  type ProcessMap,
  type ProcessMapBox,
  type StrengthUnit,
  trialFactors,
  trialFactorsOf,
} from '@huelot/contracts';
import { quantityOf, unitSymbol } from '../lab/result-text.ts';
import { capitalise } from '../../format/capitalise.ts';

export type MapFactor = keyof MapSetting;

/** A factor of a family with the ground that its trials cover. */
export interface MapAxis {
  factor: MapFactor;
  /** With its unit: `Temperature (°C)`. */
  label: string;
  /** How figures of it are shown; null is a bare number. */
  quantity: Quantity | null;
  low: number;
  high: number;
  /** In the middle of the trials: where it stays while others are looked at. */
  typical: number;
}

/** Room beside the outermost trials, as a share of what they cover. */
const ROOM = 0.12;
const median = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[values.length >> 1] ?? 0;

const isOnMap = (factor: string): factor is MapFactor => factor !== 'currentDensityAPerM2';

function quantityFor(factor: MapFactor, unit: StrengthUnit): Quantity | null {
  if (factor === 'strength') return quantityOf(unit);
  const { shownAs } = trialFactors[factor];
  return shownAs === 'shortDuration' ? 'duration' : shownAs;
}

/**
 * The factors of what maps are drawn of, each over the ground that their trials cover together. A factor that every trial
 * leaves out is none.
 *
 * @example
 * axesOf([map], 'metric').map(({ label }) => label) // ['Temperature (°C)', 'Cell voltage (V)', 'Time (min)', 'Concentration (wt%)']
 */
export function axesOf(maps: readonly ProcessMap[], system: 'metric' | 'us'): MapAxis[] {
  const [first] = maps;
  if (first === undefined) return [];
  return trialFactorsOf(first.contents).flatMap(({ factor }) => {
    if (!isOnMap(factor)) return [];
    const values = maps.flatMap(({ trials }) => trials.flatMap((trial) => trial[factor] ?? []));
    if (values.length === 0) return [];
    const [least, most] = [Math.min(...values), Math.max(...values)];
    const room = ROOM * (most - least) || Math.abs(most) * 0.1 || 1;
    const quantity = quantityFor(factor, first.unit);
    const symbol =
      factor === 'strength'
        ? unitSymbol(first.unit, system)
        : quantity === null
          ? trialFactors[factor].unit
          : displayUnit({ quantity, system }).symbol;
    return [
      {
        factor,
        quantity,
        label: `${capitalise(trialFactors[factor].label)}${symbol ? ` (${symbol})` : ''}`,
        low: factor === 'temperatureC' ? least - room : Math.max(least / 2, least - room),
        high: most + room,
        typical: median(values),
      },
    ];
  });
}

/** A trial of the record as a map takes it: every grade of colour fills a map. */
export const toMapTrial = (trial: ProcessMap['trials'][number]): MapTrial => ({
  temperatureC: trial.temperatureC,
  voltageV: trial.voltageV ?? undefined,
  timeS: trial.timeS,
  strength: trial.strength,
  coatingThicknessUm: trial.coatingThicknessUm ?? undefined,
  pH: trial.pH ?? undefined,
  outcome: trial.outcome ?? 'none',
  currentDensityAPerM2: trial.currentDensityAPerM2 ?? undefined,
  protects: trial.protects ?? undefined,
  thickness: trial.thickness ?? undefined,
  ...(trial.lab === null ? {} : { lab: trial.lab }),
});

/** What is set while two factors are looked at: the others as they were moved to, or in the middle of the trials. */
export const settingOf = (
  axes: readonly MapAxis[],
  moved: Readonly<Partial<Record<MapFactor, number>>>,
): MapSetting =>
  Object.fromEntries(
    axes.map(({ factor, typical }) => [factor, moved[factor] ?? typical]),
  ) as unknown as MapSetting;

/**
 * The limits of a recipe as a box of a map. What the recipe leaves open may be anywhere on the map's ground; what a map has
 * and a recipe does not name stays in the middle of the trials.
 */
export function boxOf(
  { temperatureC, voltageV, timeS }: Pick<ProcessMapBox, 'temperatureC' | 'voltageV' | 'timeS'>,
  axes: readonly MapAxis[],
): SettingBox {
  const box: Record<string, SettingBox[MapFactor]> = {};
  for (const { factor, low, high, typical } of axes) {
    if (factor === 'temperatureC') box[factor] = temperatureC;
    else if (factor === 'voltageV') box[factor] = voltageV ?? { low, high };
    else box[factor] = factor === 'timeS' ? timeS : typical;
  }
  return box as unknown as SettingBox;
}

/** The frame of a map as a box: two factors over all of their ground. */
export const frameOf = (setting: MapSetting, [x, y]: readonly [MapAxis, MapAxis]): SettingBox => ({
  ...setting,
  [x.factor]: { low: x.low, high: x.high },
  [y.factor]: { low: y.low, high: y.high },
});
