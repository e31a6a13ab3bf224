import { rangeInWords } from '../../format/range.ts';
import { groupDigits } from '@huelot/contracts';
import { displayUnit, type Quantity, type SystemOfUnits, toDisplay } from '@huelot/calc';
import type { BathState, ComponentUnit, Limits, ResultState, Solute } from '@huelot/contracts';
import { withUncertainty } from '../../format/uncertainty.ts';

type Shown = { quantity: Quantity } | { symbol: string; decimals: number };

const shownAs: Record<ComponentUnit, Shown> = {
  massFraction: { quantity: 'massFraction' },
  gramsPerLitre: { quantity: 'concentration' },
  molPerLitre: { symbol: 'mol/L', decimals: 3 },
  pH: { symbol: '', decimals: 2 },
  siemensPerM: { quantity: 'conductivity' },
  ntu: { symbol: 'NTU', decimals: 1 },
  judgement: { symbol: '', decimals: 0 },
};

/** The quantity that a unit is typed and shown as; null for a figure in one unit only. */
export const quantityOf = (unit: ComponentUnit): Quantity | null => {
  const how = shownAs[unit];
  return 'quantity' in how ? how.quantity : null;
};

/** The symbol of a unit as the person reads it: `wt%`, `oz/gal`, nothing for pH. */
export function unitSymbol(unit: ComponentUnit, system: SystemOfUnits): string {
  const how = shownAs[unit];
  return 'quantity' in how ? displayUnit({ quantity: how.quantity, system }).symbol : how.symbol;
}

interface Asked {
  value: number;
  unit: ComponentUnit;
  system: SystemOfUnits;
}

/** Meters show less than this, S/m, in µS/cm: 1 mS/cm. */
const inMicroBelow = 0.1;
const microPerStored = 1e4;
const isMicro = ({ value, unit }: Pick<Asked, 'value' | 'unit'>): boolean =>
  unit === 'siemensPerM' && Math.abs(value) < inMicroBelow;

/**
 * A result as its two printed parts.
 *
 * @example
 * resultParts({ value: 0.4905, unit: 'massFraction', system: 'metric' }) // { figure: '49.05', symbol: 'wt%' }
 */
export function resultParts({ value, unit, system }: Asked): { figure: string; symbol: string } {
  if (unit === 'judgement') return { figure: value >= 1 ? 'good' : 'not good', symbol: '' };
  if (isMicro({ value, unit }))
    return { figure: groupDigits(String(Number((microPerStored * value).toPrecision(3)))), symbol: 'µS/cm' };
  const how = shownAs[unit];
  if ('quantity' in how) {
    const { text, symbol } = toDisplay({ quantity: how.quantity, value, system });
    return { figure: groupDigits(text), symbol };
  }
  return { figure: groupDigits(value.toFixed(how.decimals)), symbol: how.symbol };
}

/**
 * A result with what covers about 95 % of where it may lie, two standard uncertainties; `plusMinus` is null where
 * nothing is uncertain, and `exactly` the result as it is shown alone where that has more digits.
 *
 * @example
 * uncertainParts({ value: 710.4, standardUncertainty: 1.61, unit: 'gramsPerLitre', system: 'metric' })
 * // { figure: '710.4', plusMinus: '3.2', symbol: 'g/L', exactly: null }
 */
export function uncertainParts({
  standardUncertainty,
  ...of
}: Asked & { standardUncertainty: number | null | undefined }): {
  figure: string;
  plusMinus: string | null;
  symbol: string;
  exactly: string | null;
} {
  const alone = resultParts(of);
  const quantity = quantityOf(of.unit);
  const inUnit = (value: number) =>
    isMicro(of)
      ? microPerStored * value
      : quantity === null
        ? value
        : toDisplay({ quantity, value, system: of.system }).value;
  const pair =
    of.unit === 'judgement'
      ? null
      : withUncertainty({ value: inUnit(of.value), plusMinus: inUnit(2 * (standardUncertainty ?? 0)) });
  if (pair === null) return { ...alone, plusMinus: null, exactly: null };
  const finer = alone.figure.length > pair.figure.length;
  return { ...pair, symbol: alone.symbol, exactly: finer ? resultText(of) : null };
}

/**
 * The same in one piece of text.
 *
 * @example
 * uncertainResultText({ value: 0.4905, standardUncertainty: 0.003, unit: 'massFraction', system: 'metric' })
 * // '49.05 ± 0.60 wt%'
 */
export function uncertainResultText(input: Parameters<typeof uncertainParts>[0]): string {
  const { figure, plusMinus, symbol } = uncertainParts(input);
  const pair = plusMinus === null ? figure : `${figure}\u00a0±\u00a0${plusMinus}`;
  return symbol === '' ? pair : `${pair}\u00a0${symbol}`;
}

/**
 * A result with its unit in one piece of text.
 *
 * @example
 * resultText({ value: 180.5, unit: 'gramsPerLitre', system: 'us' }) // '24.10 oz/gal'
 */
export function resultText(input: Asked): string {
  const { figure, symbol } = resultParts(input);
  return symbol === '' ? figure : `${figure}\u00a0${symbol}`;
}

/**
 * A range in words.
 *
 * @example
 * rangeText({ low: 0.48, high: 0.52 }, { unit: 'massFraction', system: 'metric' }) // '48.00 to 52.00 wt%'
 */
export function rangeText(
  { low, high }: { low: number | null; high: number | null },
  input: Omit<Asked, 'value'>,
): string {
  if (input.unit === 'judgement') return '';
  if (low !== null && high !== null) {
    const [from, to] = [resultParts({ ...input, value: low }), resultParts({ ...input, value: high })];
    if (from.symbol === to.symbol) return `${from.figure} to ${resultText({ ...input, value: high })}`;
  }
  return rangeInWords({ low, high }, (value) => resultText({ ...input, value }));
}

/**
 * Working range and stop limits in one line; empty when there are none.
 *
 * @example
 * limitsText({ target: null, low: 11.8, high: 12.7, stopLow: 11, stopHigh: null }, { unit: 'pH', system: 'metric' })
 * // 'working range 11.80 to 12.70, stop below 11.00'
 */
export function limitsText(limits: Limits, input: Omit<Asked, 'value'>): string {
  if (input.unit === 'judgement') return '';
  const { stopLow, stopHigh } = limits;
  const working = rangeText(limits, input);
  const stop = [
    stopLow === null ? '' : `below ${resultText({ ...input, value: stopLow })}`,
    stopHigh === null ? '' : `above ${resultText({ ...input, value: stopHigh })}`,
  ].filter(Boolean);
  return [working && `working range ${working}`, stop.length > 0 ? `stop ${stop.join(' or ')}` : '']
    .filter(Boolean)
    .join(', ');
}

/**
 * How far duplicates lie apart, in words; empty where there is one reading.
 *
 * @example
 * spreadText({ spread: 0.0075, unit: 'massFraction' }) // 'duplicates differ by 0.75 %'
 */
export function spreadText({ spread, unit }: { spread?: number | null; unit: ComponentUnit }): string {
  if (spread === null || spread === undefined) return '';
  const least = 5e-5;
  const words =
    unit === 'pH' ? spread.toFixed(2) : `${spread < least ? '0' : (100 * spread).toPrecision(2)} %`;
  return `duplicates differ by ${words}`;
}

export const bathTones = {
  'in-range': 'good',
  watch: 'caution',
  stop: 'danger',
  'on-hold': 'danger',
  'not-watched': 'quiet',
} as const satisfies Record<BathState, string>;
export const resultStateNames: Record<ResultState, string> = {
  'in-range': 'in range',
  watch: 'watch',
  stop: 'stop',
  'no-limits': 'no limits',
};

/** Names of what is found besides the components that a bath is watched for. */
const foundNames: Readonly<Record<string, string>> = {
  totalAlkali: 'total alkali, from one end point',
  totalSulfate: 'total sulfate as acid, from one end point',
  'Na3PO4-left': 'Na3PO4 left by the acid',
  'Na3PO4-12H2O': 'Na3PO4·12H2O, as it comes out of the bag',
};
/** What to call a component: by the name it is watched under, or as the trade calls it. */
export const componentName = ({ component, name }: { component: string; name: string }): string =>
  name === component ? (foundNames[component] ?? name) : name;

export const unitNames: Record<ComponentUnit, string> = {
  massFraction: 'mass fraction',
  gramsPerLitre: 'mass per litre',
  molPerLitre: 'moles per litre',
  pH: 'pH',
  siemensPerM: 'conductivity',
  ntu: 'turbidity',
  judgement: 'good or not good',
};

export const soluteNames: Record<Solute, string> = {
  KOH: 'KOH, potassium hydroxide',
  NaOH: 'NaOH, sodium hydroxide',
  H2SO4: 'H₂SO₄, sulfuric acid',
  H3PO4: 'H₃PO₄, phosphoric acid',
  Na3PO4: 'Na₃PO₄, trisodium phosphate',
  K2CO3: 'K₂CO₃, potassium carbonate',
  Na2CO3: 'Na₂CO₃, sodium carbonate',
  NH4_2SO4: '(NH₄)₂SO₄, ammonium sulfate',
};
