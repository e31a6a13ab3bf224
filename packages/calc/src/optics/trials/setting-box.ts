import { checkNumber } from '../../check.ts';
import { CalcError } from '../../errors.ts';
import type { MapSetting } from './trial-map.ts';
import type { SettingLimits } from './trial-limits.ts';

/** What may be set, factor by factor: one figure, or a range. */
export type SettingBox = { [K in keyof MapSetting]: MapSetting[K] | SettingLimits };

/** Points along each factor, by how many factors vary. */
const POINTS = [1, 25, 13, 7, 5];

const isRange = (value: number | SettingLimits | undefined): value is SettingLimits =>
  typeof value === 'object';

/**
 * Settings spread evenly over a box, in the middles of equal parts of each factor that varies. `ends` takes the ends of the
 * ranges in.
 */
export function settingsIn(box: SettingBox, { ends = false } = {}): MapSetting[] {
  const entries = Object.entries(box) as [keyof MapSetting, number | SettingLimits | undefined][];
  const varied = entries.filter(([, value]) => isRange(value) && value.high > value.low).length;
  const points = POINTS[varied];
  if (points === undefined)
    throw new CalcError({
      code: 'out-of-range',
      argument: 'box',
      given: varied,
      allowed: 'at most 4 ranges',
    });
  return entries.reduce<MapSetting[]>(
    (settings, [factor, value]) => {
      if (value === undefined) return settings;
      const values = isRange(value) ? valuesIn(factor, value, { points, ends }) : [value];
      return settings.flatMap((setting) => values.map((one) => ({ ...setting, [factor]: one })));
    },
    [{} as MapSetting],
  );
}

function valuesIn(
  factor: string,
  { low, high }: SettingLimits,
  { points, ends }: { points: number; ends: boolean },
): number[] {
  checkNumber(`box.${factor}.low`, low);
  checkNumber(`box.${factor}.high`, high, { min: low });
  if (high === low) return [low];
  return Array.from({ length: points }, (_, index) =>
    ends ? low + ((high - low) * index) / (points - 1) : low + ((high - low) * (index + 0.5)) / points,
  );
}
