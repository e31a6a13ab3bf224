import type { AdditionState, AnalysisReason, BathHold, ResultState, StepAction } from '@huelot/contracts';
import { format } from '$lib/format/format.ts';

export const reasonNames: Record<AnalysisReason, string> = {
  schedule: 'by plan',
  'shift-start': 'start of the shift',
  'after-addition': 'after an addition',
  'make-up': 'after make-up',
  complaint: 'a complaint',
  'look-back': 'looking back',
  asked: 'asked for',
  notebook: 'imported',
};

export const actionNames: Record<StepAction, string> = {
  decant: 'Decant',
  'add-water': 'Add water',
  'add-stock': 'Add',
  'mix-and-cool': 'Mix, and let it cool',
  analyse: 'Analyse',
  filter: 'Filter',
  electrode: 'Electrode work',
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

/** `at 60 °C, mixed for 30 min: clear again`. */
export function releaseWords({ temperatureC, mixedS, note }: NonNullable<BathHold['release']>): string {
  const figures = [
    temperatureC === null ? '' : `at ${format.quantity('temperature', temperatureC)}`,
    mixedS === null ? '' : `mixed for ${format.quantity('duration', mixedS)}`,
  ].filter(Boolean);
  return [figures.join(', '), note].filter(Boolean).join(': ');
}

/** What is watched in the bath; everything where nothing is. */
export function watchedOnly<T extends { state: ResultState }>(results: readonly T[]): readonly T[] {
  const watched = results.filter(({ state }) => state !== 'no-limits');
  return watched.length > 0 ? watched : results;
}
