import { checkName } from '../check.ts';
import {
  type PhaseName,
  phaseNames,
  phaseOf,
  type Radiation,
  radiationNames,
  radiations,
} from './data/phases.ts';

export interface PhaseLine {
  hkl: string;
  spacingA: number;
  twoThetaDeg: number;
  /** Of a powder without preferred orientation, of 100. */
  strength: number;
}

/**
 * Where a phase has its strong lines for a radiation (Kα1), by Bragg's law from its cell; spacings in Å.
 *
 * Source: cubic, tetragonal, orthorhombic and hexagonal spacings, textbook; cells and strengths from powder diffraction cards, from
 * memory. A film under strain or off composition shifts by some tenths of a degree.
 * Errors: `unknown` for a phase or a radiation.
 *
 * @example
 * phaseLines({ phase: 'magnetite', radiation: 'Cu-Ka' })[1] // { hkl: '311', spacingA: 2.5315, twoThetaDeg: 35.43, strength: 100 }
 */
export function phaseLines({ phase, radiation }: { phase: PhaseName; radiation: Radiation }): PhaseLine[] {
  const { cell, lines } = phaseOf(checkName('phase', phase, phaseNames));
  const wavelengthA = radiations[checkName('radiation', radiation, radiationNames)];
  return lines.flatMap(({ hkl, strength }) => {
    const spacingA = spacingOf(cell, hkl);
    const sine = wavelengthA / (2 * spacingA);
    return sine >= 1 ? [] : [{ hkl, spacingA, twoThetaDeg: (2 * Math.asin(sine) * 180) / Math.PI, strength }];
  });
}

function spacingOf(
  { a, b = a, c = a, isHexagonal = false }: { a: number; b?: number; c?: number; isHexagonal?: boolean },
  hkl: string,
): number {
  const [h = 0, k = 0, l = 0] = [...hkl].map(Number);
  const inPlane = isHexagonal ? (4 * (h ** 2 + h * k + k ** 2)) / (3 * a ** 2) : (h / a) ** 2 + (k / b) ** 2;
  return 1 / Math.sqrt(inPlane + (l / c) ** 2);
}
