import {
  exposureVerdictNames,
  type ExposureFigure,
  type ExposureObservation,
  type ExposureSpecimen,
  type ExposureState,
} from '@huelot/contracts';
import { finishNames } from '../polarization/finish-words.ts';

export const stateNames: Record<ExposureState, string> = {
  planned: 'planned',
  running: 'running',
  ended: 'ended',
  withdrawn: 'withdrawn',
};
export const stateTones = {
  planned: 'quiet',
  running: 'info',
  ended: 'good',
  withdrawn: 'quiet',
} as const satisfies Record<ExposureState, string>;

export const figureNames: Record<ExposureFigure, { label: string; unit: string }> = {
  temperatureC: { label: 'Temperature', unit: '°C' },
  pH: { label: 'pH of what was collected', unit: '' },
  collectionMlPerHour: { label: 'Collected on 80 cm²', unit: 'mL/h' },
  saltGPerL: { label: 'Salt in what was collected', unit: 'g/L' },
};
export const figures = Object.keys(figureNames) as ExposureFigure[];

/** What a specimen wears, in words: `coloured and oiled: black of R-00005, dewatering oil`. */
export function surfaceWords({
  finish,
  film,
  protective,
}: Pick<ExposureSpecimen, 'finish' | 'film' | 'protective'>): string {
  const detail = [film, protective].filter(Boolean).join(', ');
  return detail === '' ? finishNames[finish] : `${finishNames[finish]}: ${detail}`;
}

/** Hours as they are spoken of: to the tenth below ten, whole from then on. */
export const hoursWords = (hours: number): string =>
  `${hours < 10 ? Number(hours.toFixed(1)) : Math.round(hours)} h`;

/**
 * When a specimen began to corrode, as sure as the looks were.
 *
 * @example
 * spanWords({ afterH: 72, byH: 120 }) // 'between 72 h and 120 h (day 3 and day 5)'
 */
export function spanWords({ afterH, byH }: { afterH: number; byH: number | null }): string {
  if (byH === null) return afterH === 0 ? 'nobody has looked yet' : `not seen by ${hoursWords(afterH)}`;
  const day = (hours: number) => Number((hours / 24).toFixed(1));
  return `between ${hoursWords(afterH)} and ${hoursWords(byH)} (day ${day(afterH)} and day ${day(byH)})`;
}

/** What was seen, with its figures: `corroded area 2.5 %, rating 5`. */
export function verdictWords({
  verdict,
  defectAreaPercent,
  rating,
}: Pick<ExposureObservation, 'verdict' | 'defectAreaPercent' | 'rating'>): string {
  return [
    exposureVerdictNames[verdict] + (defectAreaPercent === null ? '' : ` ${defectAreaPercent} %`),
    ...(rating === null ? [] : [`rating ${rating}`]),
  ].join(', ');
}

/** Which day of a test a calendar day is; the day it started is 0. */
export const dayOfTest = (startDay: string, day: string): number =>
  Math.round((Date.parse(day) - Date.parse(startDay)) / 86_400_000);
