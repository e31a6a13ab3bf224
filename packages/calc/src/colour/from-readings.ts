import { checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';
import type { Lab, Lch, Xyz } from './colour-types.ts';
import { ciede2000 } from './delta-e.ts';
import { xyzOf } from './from-reflectance.ts';
import { checkLab, lchToLab, xyzToLab } from './lab.ts';
import { type MeasuredSpectrum, resample } from './measured-spectrum.ts';

/** One reading of an instrument, in whichever form it gives. */
export type ColourReading = Lab | Lch | Xyz | MeasuredSpectrum;

/**
 * How the instrument was set; matters for every form but a spectrum, which carries its own colour under any
 * light.
 */
export interface ReadingConditions {
  illuminant: string;
  observerDeg: number;
  specular: 'included' | 'excluded';
}

export interface ReadLab {
  /** The mean of the readings. */
  lab: Lab;
  /**
   * Mean and largest difference of the readings from their mean, dE00: the repeatability; null for one
   * reading.
   */
  meanDeltaE: number | null;
  largestDeltaE: number | null;
  count: number;
  flags: string[];
}

/** Readings further than this from their mean are not readings of one even surface. */
const UNEVEN_DELTA_E = 2;

/**
 * One CIELAB colour from one or more readings of the same surface, and how well they repeat. Forms may be
 * mixed: CIELAB, its polar form, tristimulus values (Y = 100 for a perfect reflector) or a spectrum of at
 * least 400 to 700 nm with steps up to 20 nm.
 *
 * `conditions` D65, 2 degrees, specular included unless given; anything else is flagged, because such numbers
 * cannot be compared with predicted colours. Spectra that end inside 380 to 780 nm hold their end values and
 * are flagged.
 * Source: CIE 15:2004; mean difference from the mean as ASTM E2214 describes repeatability (designation from
 * memory).
 * Errors: `malformed` for no reading, a reading of no known form or a broken spectrum; `not-finite`,
 * `out-of-range`.
 *
 * @example
 * labFromReadings({ readings: [{ L: 50, a: 10, b: 5 }, { L: 50.4, a: 10.2, b: 5.4 }] })
 * // { lab: { L: 50.2, a: 10.1, b: 5.2 }, count: 2, flags: [] }
 */
export function labFromReadings(input: {
  readings: readonly ColourReading[];
  conditions?: Partial<ReadingConditions>;
}): ReadLab {
  const { readings } = input;
  if (readings.length === 0) {
    throw new CalcError({
      code: 'malformed',
      argument: 'readings',
      given: 'none',
      allowed: 'at least one reading',
    });
  }
  const labs = readings.map((reading, i) => labOfReading(`readings[${i}]`, reading));
  const mean = (part: keyof Lab) => labs.reduce((total, lab) => total + lab[part], 0) / labs.length;
  const lab = { L: mean('L'), a: mean('a'), b: mean('b') };
  const differences = labs.map((each) => ciede2000(lab, each));
  const repeated = labs.length > 1;
  const largest = Math.max(...differences);
  return {
    lab,
    meanDeltaE: repeated ? differences.reduce((total, value) => total + value, 0) / labs.length : null,
    largestDeltaE: repeated ? largest : null,
    count: labs.length,
    flags: [
      ...conditionFlags(readings, input.conditions ?? {}),
      ...(readings.some(isCutShort) ? ['spectrum ends inside 380 to 780 nm: its end values are held'] : []),
      ...(largest > UNEVEN_DELTA_E
        ? [`readings differ from their mean by up to ${largest.toFixed(1)} dE00`]
        : []),
    ],
  };
}

export function labOfReading(argument: string, reading: ColourReading): Lab {
  if ('reflectance' in reading) {
    const { X, Y, Z } = xyzOf(resample(argument, reading));
    return xyzToLab(X, Y, Z);
  }
  if ('X' in reading) {
    const part = (name: keyof Xyz) => checkNumber(`${argument}.${name}`, reading[name], { min: 0, max: 150 });
    return xyzToLab(part('X'), part('Y'), part('Z'));
  }
  if ('C' in reading) {
    const L = checkNumber(`${argument}.L`, reading.L, { min: 0, max: 100 });
    const C = checkNumber(`${argument}.C`, reading.C, { min: 0, max: 200 });
    return lchToLab({ L, C, h: checkNumber(`${argument}.h`, reading.h, { min: -360, max: 360 }) });
  }
  if ('a' in reading) return checkLab(argument, reading);
  throw new CalcError({
    code: 'malformed',
    argument,
    given: reading,
    allowed: 'L a b, L C h, X Y Z or a spectrum',
  });
}

const isSpectrum = (reading: ColourReading): reading is MeasuredSpectrum => 'reflectance' in reading;

const isCutShort = (reading: ColourReading): boolean =>
  isSpectrum(reading) &&
  ((reading.wavelengthsNm[0] ?? 0) > 380 || (reading.wavelengthsNm.at(-1) ?? Infinity) < 780);

function conditionFlags(
  readings: readonly ColourReading[],
  conditions: Partial<ReadingConditions>,
): string[] {
  const { illuminant = 'D65', observerDeg = 2, specular = 'included' } = conditions;
  const numbers = readings.some((reading) => !isSpectrum(reading));
  return [
    ...(numbers && (illuminant !== 'D65' || observerDeg !== 2)
      ? [
          `read under ${illuminant}, ${observerDeg} degree: cannot be compared with colours under D65, 2 degree`,
        ]
      : []),
    ...(specular === 'excluded'
      ? [
          'read with specular excluded: bright metal reads far darker than predicted colours, which include it',
        ]
      : []),
  ];
}
