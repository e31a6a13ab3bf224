import type {
  AdditionState,
  AnalysisReason,
  BathHold,
  ResultState,
  StepAction,
  WasteCategory,
} from '@huelot/contracts';
import { shown } from '$lib/shown.ts';

export const reasonNames: Record<AnalysisReason, string> = {
  schedule: 'by plan',
  'shift-start': 'start of the shift',
  'after-addition': 'after an addition',
  'make-up': 'after make-up',
  complaint: 'a complaint',
  'look-back': 'looking back',
  asked: 'asked for',
  notebook: 'from the notebook',
};

export const actionNames: Record<StepAction, string> = {
  decant: 'Decant',
  'add-water': 'Add water',
  'add-stock': 'Add',
  'mix-and-cool': 'Mix, and let it cool',
  analyse: 'Analyse',
  filter: 'Filter',
  electrode: 'Work on electrodes',
};

export const additionStates: Record<
  AdditionState,
  { label: string; tone: 'info' | 'good' | 'quiet' | 'caution' }
> = {
  planned: { label: 'planned', tone: 'info' },
  done: { label: 'done', tone: 'good' },
  withdrawn: { label: 'withdrawn', tone: 'quiet' },
  corrected: { label: 'corrected', tone: 'caution' },
};

export const wasteNames: Record<WasteCategory, string> = {
  alkaline: 'alkaline',
  acid: 'acid',
  'metal-bearing': 'metal-bearing',
  'fluoride-bearing': 'fluoride-bearing',
  dye: 'dye',
  'rinse-water': 'rinse water',
  reused: 'used again',
  other: 'other',
};

/** `at 60 °C, mixed for 30 min: clear again`. */
export function releaseWords({ temperatureC, mixedS, note }: NonNullable<BathHold['release']>): string {
  const figures = [
    temperatureC === null ? '' : `at ${shown.quantity('temperature', temperatureC)}`,
    mixedS === null ? '' : `mixed for ${shown.quantity('duration', mixedS)}`,
  ].filter(Boolean);
  return [figures.join(', '), note].filter(Boolean).join(': ');
}

/** What is watched in the bath; everything where nothing is. */
export function watchedOnly<T extends { state: ResultState }>(results: readonly T[]): readonly T[] {
  const watched = results.filter(({ state }) => state !== 'no-limits');
  return watched.length > 0 ? watched : results;
}

/**
 * First letter as at the start of a sentence.
 *
 * @example
 * sentence('by plan') // 'By plan'
 */
export const sentence = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

/** Choices of a select from names. */
export const optionsOf = <T extends string>(names: Record<T, string>, values: readonly T[]) =>
  values.map((value) => ({ value, label: names[value] }));
