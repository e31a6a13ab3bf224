import { CalcError } from '../errors.ts';
import type { Lab } from './colour-types.ts';
import { labOfReading } from './from-readings.ts';
import type { MeasuredSpectrum } from './measured-spectrum.ts';

/** How the file says its instrument was set; null where it does not say. */
export interface FileConditions {
  instrument: string | null;
  geometry: string | null;
  illuminant: string | null;
  observerDeg: number | null;
}

export interface FileReading {
  /** Line of the file, counted from 1. */
  line: number;
  /** What the file calls the place or the sample; may be empty. */
  name: string;
  zone: string;
  /** As the file states it; of a spectrum, under D65 by the 2 degree observer. */
  lab: Lab;
  spectrum: MeasuredSpectrum | null;
}

export interface ColourFile {
  format: 'CGATS' | 'CSV';
  conditions: FileConditions;
  readings: FileReading[];
  /** Lines that cannot be read, and why. */
  faults: { line: number; message: string }[];
  /** Columns that mean nothing here and were left out. */
  ignored: string[];
}

/** One line of a file with the cells that matter, still as text. */
export interface FileRow {
  line: number;
  name: string;
  zone: string;
  lab: Record<keyof Lab, string> | null;
  spectrum: { nm: number; text: string }[];
}

export const refusedFile = (given: unknown, allowed: string): CalcError =>
  new CalcError({ code: 'malformed', argument: 'text', given, allowed });

/** More readings than anybody takes of one lot. */
const MOST_READINGS = 500;
/** A reflectance above this is per cent: no surface here reflects more than all, and a little. */
const BRIGHTEST = 1.5;

/**
 * The rows as readings. Figures take a decimal point; whether a spectrum is in per cent is decided once for the whole file,
 * by its brightest value, unless the file states it.
 */
export function readingsFrom(
  rows: readonly FileRow[],
  scale: 'percent' | 'fraction' | null,
): Pick<ColourFile, 'readings' | 'faults'> {
  if (rows.length === 0) throw refusedFile('no readings', 'at least one line of readings');
  if (rows.length > MOST_READINGS)
    throw refusedFile(`${rows.length} readings`, `at most ${MOST_READINGS} readings in one file`);
  const brightest = rows.reduce(
    (most, { spectrum }) => spectrum.reduce((one, { text }) => Math.max(one, figure(text) ?? 0), most),
    0,
  );
  const factor = (scale ?? (brightest > BRIGHTEST ? 'percent' : 'fraction')) === 'percent' ? 0.01 : 1;
  const readings: FileReading[] = [];
  const faults: ColourFile['faults'] = [];
  for (const row of rows) {
    try {
      readings.push(readingFrom(row, factor));
    } catch (error) {
      if (!(error instanceof CalcError)) throw error;
      faults.push({ line: row.line, message: error.sentence });
    }
  }
  return { readings, faults };
}

function readingFrom({ line, name, zone, lab, spectrum }: FileRow, factor: number): FileReading {
  if (spectrum.length > 0) {
    const measured: MeasuredSpectrum = {
      wavelengthsNm: spectrum.map(({ nm }) => nm),
      reflectance: spectrum.map(({ nm, text }) => factor * asked(`reflectance at ${nm} nm`, text)),
    };
    return { line, name, zone, lab: labOfReading('spectrum', measured), spectrum: measured };
  }
  if (lab === null) throw refusedFile('a line without colour', 'L, a and b or a spectrum');
  const typed = { L: asked('L', lab.L), a: asked('a', lab.a), b: asked('b', lab.b) };
  return { line, name, zone, lab: labOfReading('colour', typed), spectrum: null };
}

function asked(argument: string, text: string): number {
  const value = figure(text);
  if (value !== null) return value;
  const given = text === '' ? 'an empty cell' : text.slice(0, 40);
  throw new CalcError({ code: 'malformed', argument, given, allowed: 'a number like 41.37' });
}

/** A plain number, or null: what a comma means is settled before a cell comes here. */
export const figure = (text: string): number | null =>
  /^[+-]?(\d{1,9}(\.\d{0,20})?|\.\d{1,20})(e[+-]?\d{1,2})?$/i.test(text) ? Number(text) : null;
