import { checkFinite } from '../check.ts';
import { figureWords } from '../lab/judge-result.ts';
import type { LabUnit } from '../lab/readings.ts';
import { type ChemicalSide, methodFit } from './method-fit.ts';
import { type ResultJump, resultJump } from './result-jump.ts';

/** What is known of a bath when a result is entered. */
export interface ResultBackground {
  /** Of the bath by what it holds. */
  side: ChemicalSide | null;
  /** Components that it is watched for, its solute among them. */
  watched: readonly string[];
  /** The last result of each component before this sample, and what happened since. */
  previous: readonly {
    component: string;
    unit: LabUnit;
    referenceTemperatureC: number | null;
    value: number;
    standardUncertainty: number | null;
    expected: number | null;
    isStrength: boolean;
    days: number;
    carriedOutShare: number;
  }[];
}

interface EnteredResult {
  component: string;
  name: string;
  unit: LabUnit;
  referenceTemperatureC: number | null;
  value: number;
  standardUncertainty: number | null;
}

/** Why a result is asked about before it is kept. */
export type ResultDoubt =
  | { code: 'method'; found: string[]; expected: string[] }
  | { code: 'jump'; name: string; unit: LabUnit; value: number; jump: ResultJump };

/**
 * What to ask about results before they are kept: whether the method is one for this bath, and, where it is, whether
 * each figure can follow from the last one. Results in another unit or at another temperature are not compared.
 *
 * Ranges, source and errors: {@link methodFit}, {@link resultJump}.
 *
 * @example
 * resultDoubts({
 *   results: [
 *     { component: 'H2SO4', name: 'H2SO4', unit: 'gramsPerLitre', referenceTemperatureC: 20, value: 181, standardUncertainty: 1 },
 *   ],
 *   background: { side: 'alkali', watched: ['KOH', 'K2CO3'], previous: [] },
 * })
 * // [{ code: 'method', found: ['H2SO4'], expected: ['KOH', 'K2CO3'] }]
 */
export function resultDoubts(input: {
  results: readonly EnteredResult[];
  background: ResultBackground;
}): ResultDoubt[] {
  checkFinite('', input);
  const { results, background } = input;
  const { watched, side } = background;
  const misfit = methodFit({ found: results.map(({ component }) => component), watched, side });
  if (misfit !== null) return [{ code: 'method', ...misfit }];
  return results.flatMap((result): ResultDoubt[] => {
    const { name, unit, value, referenceTemperatureC } = result;
    const previous = background.previous.find(
      (one) =>
        one.component === result.component &&
        one.unit === unit &&
        one.referenceTemperatureC === referenceTemperatureC,
    );
    if (previous === undefined) return [];
    const { expected, isStrength, days, carriedOutShare } = previous;
    const jump = resultJump({ unit, isStrength, result, previous, expected, days, carriedOutShare });
    return jump === null ? [] : [{ code: 'jump', name, unit, value, jump }];
  });
}

const chemicalNames: Readonly<Record<string, string>> = {
  KOH: 'potassium hydroxide',
  NaOH: 'sodium hydroxide',
  K2CO3: 'potassium carbonate',
  Na2CO3: 'sodium carbonate',
  Na3PO4: 'trisodium phosphate',
  H2SO4: 'sulfuric acid',
  H3PO4: 'phosphoric acid',
  totalAlkali: 'alkali in all',
  totalSulfate: 'sulfate in all',
};
const listed = (components: readonly string[]): string =>
  components.map((component) => chemicalNames[component] ?? component).join(' and ');

/**
 * The question that a doubt asks, with its figures.
 *
 * Valid for any doubt of {@link resultDoubts}. Source: none. No errors.
 *
 * @example
 * resultQuestion({ code: 'method', found: ['H2SO4'], expected: ['KOH'] })
 * // 'this method found sulfuric acid, and the bath is watched for potassium hydroxide: are sample and method of this bath?'
 */
export function resultQuestion(doubt: ResultDoubt): string {
  if (doubt.code === 'method') {
    const { found, expected } = doubt;
    const holds = expected.length === 0 ? 'is of another kind' : `is watched for ${listed(expected)}`;
    return `this method found ${listed(found)}, and the bath ${holds}: are sample and method of this bath?`;
  }
  const { name, unit, value, jump } = doubt;
  const words = (figure: number): string => figureWords(figure, unit);
  const slip = jump.tenfold ? 'has a decimal point slipped?' : 'is this so?';
  return `${name} was ${words(jump.previous)} the last time and is ${words(value)} now; by what is on record since, ${words(jump.low)} to ${words(jump.high)} would fit: ${slip}`;
}
