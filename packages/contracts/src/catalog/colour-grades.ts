import { z } from 'zod';

/**
 * How a colour is known: with an instrument; by two people beside a standard; from a photo with a reference card in it; in
 * words only.
 */
export const ColourGrade = z.enum(['measured', 'compared', 'photo', 'word']);
export type ColourGrade = z.output<typeof ColourGrade>;

/** What people call each grade, on screen and on paper. */
export const colourGradeNames: Record<ColourGrade, string> = {
  measured: 'measured with an instrument',
  compared: 'compared by two people',
  photo: 'photo with a reference card',
  word: 'in words only',
};

/**
 * Whether a colour of that grade may approve something or feed a fit. Lower grades fill maps and memory, never these.
 *
 * @example
 * gradeDecides('photo') // false
 */
export const gradeDecides = (grade: ColourGrade): boolean => grade === 'measured' || grade === 'compared';

/** How light falls on the surface and is collected. */
export const MeasuringGeometry = z.enum(['d8-included', 'd8-excluded', '45-0', 'unstated']);
export type MeasuringGeometry = z.output<typeof MeasuringGeometry>;
export const measuringGeometryNames: Record<MeasuringGeometry, string> = {
  'd8-included': 'd/8°, specular included',
  'd8-excluded': 'd/8°, specular excluded',
  '45-0': '45°/0°',
  unstated: 'geometry not stated',
};

export const Illuminant = z.enum(['D65', 'D50', 'A', 'C', 'F2', 'F11']);
export type Illuminant = z.output<typeof Illuminant>;
/** The standard observer, degrees. */
export const ObserverDeg = z.literal([2, 10]);
export type ObserverDeg = z.output<typeof ObserverDeg>;

/** What figures of a colour mean anything under: two colours are compared only where all of it but the instrument is alike. */
export const MeasuringConditions = z.object({
  geometry: MeasuringGeometry,
  illuminant: Illuminant,
  observerDeg: ObserverDeg,
});
export type MeasuringConditions = z.output<typeof MeasuringConditions>;

/** What stands wherever a swatch is shown. */
export const swatchCaution = 'Screens and paper do not show colour: the figures or the sample decide.';
