import { contentsNames, TankContents, TankCover, TankKind, type Tank } from '@huelot/contracts';
import { format } from '$lib/format/format.ts';
import { optionsOf } from '$lib/format/options.ts';

export const kindNames: Record<TankKind, string> = {
  electrolytic: 'electrolytic tank',
  immersion: 'immersion tank',
  rinse: 'rinse tank',
  dryer: 'dryer or oven',
  bench: 'bench',
};
export const coverNames: Record<TankCover, string> = {
  none: 'none',
  lid: 'lid',
  'floating-balls': 'floating balls',
};

export const contentsOptions = optionsOf(contentsNames, TankContents.options);
export const kindOptions = optionsOf(kindNames, TankKind.options);
export const coverOptions = optionsOf(coverNames, TankCover.options);

/**
 * The range a tank can be held in.
 *
 * @example
 * rangeText({ temperatureMinC: 18, temperatureMaxC: null }) // 'from 18.0 °C'
 */
export function rangeText(range: Pick<Tank, 'temperatureMinC' | 'temperatureMaxC'>): string {
  const { temperatureMinC: least, temperatureMaxC: most } = range;
  const text = (value: number) => format.quantity('temperature', value);
  if (least !== null && most !== null) return `${text(least)} to ${text(most)}`;
  if (least !== null) return `from ${text(least)}`;
  return most === null ? '' : `up to ${text(most)}`;
}
