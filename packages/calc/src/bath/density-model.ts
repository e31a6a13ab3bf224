import { densityCoefficients } from './data/density-model.ts';
import type { DissolvedSalt } from './solutes.ts';

export interface Part {
  solute: DissolvedSalt;
  massFraction: number;
}

/** Water, kg/m3 at 101.325 kPa, 0 to 150 °C: Kell, J. Chem. Eng. Data 20 (1975) 97. */
export const waterDensity = (t: number): number =>
  (999.83952 +
    t * (16.945176 + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 - t * 280.54253e-12))))) /
  (1 + 16.87985e-3 * t);

/**
 * Density of water with any number of solutes, kg/m3, by the model of Laliberté and Cooper: volumes of water and of
 * each solute add, a solute's own apparent density depending on the temperature and on all solutes together.
 */
export function modelDensity(parts: readonly Part[], t: number): number {
  const solids = parts.reduce((sum, part) => sum + part.massFraction, 0);
  let volume = (1 - solids) / waterDensity(t);
  for (const { solute, massFraction } of parts) {
    if (massFraction === 0) continue;
    const [c0, c1, c2, c3, c4] = densityCoefficients[solute].c;
    volume += (massFraction * (solids + c2 + c3 * t)) / ((c0 * solids + c1) * Math.exp(1e-6 * (t + c4) ** 2));
  }
  return 1 / volume;
}
