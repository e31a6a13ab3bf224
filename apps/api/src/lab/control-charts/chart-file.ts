import { type Quantity, toDisplay } from '@huelot/calc';
import type { BathChart, ComponentUnit } from '@huelot/contracts';
import type { Cell } from '../../http/csv.ts';

const quantities: Partial<Record<ComponentUnit, Quantity>> = {
  massFraction: 'massFraction',
  gramsPerLitre: 'concentration',
  siemensPerM: 'conductivity',
};
const plainUnits: Partial<Record<ComponentUnit, string>> = { molPerLitre: 'mol/L', ntu: 'NTU' };
/** As many figures as any method finds. */
const figures = 9;

/**
 * The points of a chart as the table that a spreadsheet opens: what is measured and in which unit stands in the heads, times are
 * those of the shop, and the limits in force stand beside each point.
 */
export function chartFile(
  { component, components, setup, points, fills }: BathChart,
  timeZone: string,
): { heads: string[]; rows: Cell[][] } {
  const name = setup?.name ?? components.find(({ key }) => key === component)?.name ?? component;
  const unit = setup?.unit ?? null;
  const quantity = unit === null ? undefined : quantities[unit];
  const shown = (value: number) =>
    Number((quantity ? toDisplay({ quantity, value, system: 'metric' }).value : value).toPrecision(figures));
  const symbol = quantity
    ? toDisplay({ quantity, value: 0, system: 'metric' }).symbol
    : ((unit && plainUnits[unit]) ?? '');
  const inUnit = (what: string) => (symbol === '' ? what : `${what} (${symbol})`);
  const clock = new Intl.DateTimeFormat('sv-SE', { timeZone, dateStyle: 'short', timeStyle: 'medium' });
  const limits = [setup?.stopLow, setup?.low, setup?.target, setup?.high, setup?.stopHigh].map((limit) =>
    limit === null || limit === undefined ? null : shown(limit),
  );
  return {
    heads: [
      `sampled (${timeZone})`,
      'bath',
      inUnit(name),
      inUnit('standard uncertainty'),
      ...['stop low', 'low', 'target', 'high', 'stop high'].map(inUnit),
    ],
    rows: points.atMs.map((atMs, index) => [
      clock.format(atMs),
      fills[points.fill[index] ?? -1]?.number ?? null,
      shown(points.value[index] ?? NaN),
      shown(points.standardUncertainty[index] ?? NaN),
      ...limits,
    ]),
  };
}
