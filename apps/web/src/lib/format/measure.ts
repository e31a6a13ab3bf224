import {
  convert,
  displayUnit,
  QUANTITIES,
  type Quantity,
  type SystemOfUnits,
  type Unit,
  UNIT_NAMES,
  type UnitInfo,
  UNITS,
} from '@huelot/calc';

/** One figure with the unit that was typed behind it, if any. */
interface Term {
  number: number;
  unit: string;
}

const vulgar: Readonly<Record<string, string>> = {
  '½': '1/2',
  '¼': '1/4',
  '¾': '3/4',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
};

/** Other ways to write a unit, beside its name and its printed symbol. */
const aliases: Readonly<Record<string, Unit>> = {
  '"': 'in',
  '″': 'in',
  '”': 'in',
  inch: 'in',
  inches: 'in',
  "'": 'ft',
  '′': 'ft',
  '’': 'ft',
  foot: 'ft',
  feet: 'ft',
  mils: 'mil',
  μm: 'um',
  l: 'L',
  ml: 'mL',
  'sq in': 'in2',
  'sq ft': 'ft2',
  lbs: 'lb',
  c: 'degC',
  f: 'degF',
  sec: 's',
};

const info = (unit: Unit): UnitInfo => UNITS[unit];

/** The unit of a dimension that a person means; `C` and `K` are units of several. */
function unitOf(typed: string, dimension: string): Unit | undefined {
  const alias = aliases[typed.toLowerCase()];
  if (alias !== undefined && info(alias).dimension === dimension) return alias;
  return UNIT_NAMES.find(
    (unit) => info(unit).dimension === dimension && (unit === typed || info(unit).symbol === typed),
  );
}

const NUMBER = String.raw`\d+[ -]\d+\/\d+|\d+\/\d+|\d*[.,]?\d+`;
const UNIT = String.raw`[^\d\s.,/-][^\d\s.,]*(?:[23](?!\d))?`;
const TERM = new RegExp(String.raw`^\s*(${NUMBER})\s*((?:sq )?${UNIT})?`, 'u');

function numberOf(text: string): number {
  const [, whole = '0', over, under] = /^(?:(\d+)[ -])?(\d+)\/(\d+)$/.exec(text) ?? [];
  return over === undefined ? Number(text.replace(',', '.')) : Number(whole) + Number(over) / Number(under);
}

function termsOf(text: string): Term[] | null {
  const terms: Term[] = [];
  let rest = text.trim();
  while (rest !== '') {
    const [all, number, unit = ''] = TERM.exec(rest) ?? [];
    if (all === undefined || number === undefined) return null;
    terms.push({ number: numberOf(number), unit });
    rest = rest.slice(all.length).trim();
  }
  return terms.length > 0 && terms.every((term) => Number.isFinite(term.number)) ? terms : null;
}

/**
 * A figure typed with a fraction or with a unit of its own, in the unit the field shows: `1/2`, `3 1/4"`, `5' 6 1/2"`, `12 mm`.
 * Null for whatever is neither, such as a plain number, which is read without this.
 *
 * @example
 * readMeasure('3 1/4"', { quantity: 'length', system: 'metric' }) // { number: 82.55 }
 */
export function readMeasure(
  text: string,
  shown: { quantity: Quantity; system: SystemOfUnits },
): { number: number } | { fault: string } | null {
  const sign = /^\s*[-−]/.test(text) ? -1 : 1;
  const spelt = text.replace(/^\s*[-−]/, '').replace(/[½¼¾⅛⅜⅝⅞]/gu, (sign) => ` ${vulgar[sign] ?? ''}`);
  const terms = termsOf(spelt);
  if (terms === null || /e[+-]?\d+$/i.test(spelt)) return null;
  const [first, ...more] = terms;
  if (first === undefined || (first.unit === '' && more.length > 0)) return null;
  const { unit: target, symbol } = displayUnit(shown);
  const { dimension } = info(QUANTITIES[shown.quantity].stored);
  let sum = 0;
  for (const { number, unit } of terms) {
    const from = unit === '' ? (more.length > 0 ? undefined : target) : unitOf(unit, dimension);
    if (from === undefined) {
      const known = UNIT_NAMES.filter((name) => info(name).dimension === dimension);
      const names = [...new Set(known.map((name) => info(name).symbol))].filter(Boolean).join(', ');
      return { fault: `“${unit}” is not a unit of this figure. Write ${names || symbol}.` };
    }
    sum += convert({ value: number, from, to: target });
  }
  return { number: Number((sign * sum).toPrecision(15)) };
}
