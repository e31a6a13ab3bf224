import type { MeasuringConditions } from '../catalog/colour-grades.ts';

type Light = Pick<MeasuringConditions, 'illuminant' | 'observerDeg'>;

/** Illuminants that a spectrum can be integrated under; figures under the others come from the instrument. */
export const spectralIlluminants = ['D65', 'D50', 'A'] as const;

/**
 * What a spectrum is integrated under: as the standard was agreed, else as it was measured. The geometry stays that of the instrument.
 *
 * @example
 * viewedAs(reading.conditions, agreed.conditions).illuminant // 'D50'
 */
export const viewedAs = (
  conditions: MeasuringConditions,
  wanted: MeasuringConditions | null,
): MeasuringConditions => ({
  ...conditions,
  illuminant: (wanted ?? conditions).illuminant,
  observerDeg: (wanted ?? conditions).observerDeg,
});

/**
 * Why figures under some conditions cannot be compared with a standard; null where they can. Figures under another light or for
 * another observer are another colour: they are never compared. Where one of the two does not state its geometry, that alone does
 * not part them.
 *
 * @example
 * conditionFault({ illuminant: 'D50', observerDeg: 2 }, standard.conditions)?.message // 'must be D65, as the standard was agreed'
 */
export function conditionFault(
  conditions: Light & Partial<MeasuringConditions>,
  wanted: MeasuringConditions | null,
): { path: keyof MeasuringConditions; message: string } | null {
  if (wanted === null) return null;
  if (conditions.illuminant !== wanted.illuminant)
    return { path: 'illuminant', message: `must be ${wanted.illuminant}, as the standard was agreed` };
  if (conditions.observerDeg !== wanted.observerDeg)
    return { path: 'observerDeg', message: `must be ${wanted.observerDeg}, as the standard was agreed` };
  const { geometry = 'unstated' } = conditions;
  const stated = geometry !== 'unstated' && wanted.geometry !== 'unstated';
  return stated && geometry !== wanted.geometry
    ? { path: 'geometry', message: 'must be that of the standard: another one reads another colour' }
    : null;
}
