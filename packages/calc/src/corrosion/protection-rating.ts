import { checkNumber } from '../check.ts';

/** Per cent of the surface that a rating still allows, the best first. */
const mostDefectPercent = [0, 0.1, 0.25, 0.5, 1, 2.5, 5, 10, 25, 50] as const;

/**
 * Protection rating of a surface by how much of it shows corrosion of the metal underneath: 10 for none, 0 for more than
 * half. It says nothing of looks: a stain of the film leaves it at 10.
 *
 * `defectAreaPercent` 0 to 100, of the surface that is judged.
 * Source: rating table of ISO 10289, from memory; its bounds are those of R = 3 (2 − log10 A), rounded.
 * Errors: `out-of-range` or `not-finite`.
 *
 * @example
 * protectionRating({ defectAreaPercent: 0.3 }) // 7
 */
export function protectionRating({ defectAreaPercent }: { defectAreaPercent: number }): number {
  const percent = checkNumber('defectAreaPercent', defectAreaPercent, { min: 0, max: 100 });
  const place = mostDefectPercent.findIndex((most) => percent <= most);
  return place < 0 ? 0 : 10 - place;
}
