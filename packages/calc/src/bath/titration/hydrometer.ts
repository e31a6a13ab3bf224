import { checkName, checkNumber } from '../../check.ts';
import { CalcError } from '../../errors.ts';
import { bisect } from '../../numeric/root.ts';
import { molarMass } from '../data/molar-masses.ts';
import { liquidEndsAt } from '../data/solubility.ts';
import { mixtureFlags, mixtureKgPerM3 } from '../density.ts';
import type { Part } from '../density-model.ts';
import { checkTemperature } from '../inputs.ts';
import { densityBand, liquidDensity } from '../liquid-density.ts';
import { checkSolute, type DissolvedSalt, dissolvedSalts, type Solute } from '../solutes.ts';
import type { BathComponent } from './flask.ts';

/** `g/mL`, also for specific gravity 20/4; `SG60F` specific gravity at 60/60 °F; degrees Baumé (heavy) and Twaddell. */
export type HydrometerScale = 'g/mL' | 'SG60F' | 'Baume' | 'Twaddell';

/** Water at 60 °F, g/mL. From memory, the customary definition. */
const waterAt60F = 0.99904;

/** Scales to g/mL; Baumé and Twaddell are defined at 60/60 °F. From memory, standard definitions. */
const toGramsPerMl: Readonly<Record<HydrometerScale, (reading: number) => number>> = {
  'g/mL': (reading) => reading,
  SG60F: (reading) => reading * waterAt60F,
  Baume: (reading) => (145 / (145 - reading)) * waterAt60F,
  Twaddell: (reading) => (1 + reading / 200) * waterAt60F,
};

/** Cubic expansion of soda glass per kelvin. From memory. */
const glassExpansion = 2.5e-5;

/** Strongest liquid that a float can tell: the density of sulfuric acid turns round near 97 wt%. */
const strongest = (solute: Solute): number => (solute === 'H2SO4' ? 0.96 : liquidEndsAt[solute]);

export interface HydrometerResult {
  component: BathComponent;
  densityKgPerM3: number;
  /** What the spread between density sources means in mass fraction; not part of the standard uncertainty. */
  sourceBandMassFraction: number;
  flags: string[];
}

/**
 * Strength from a hydrometer, read back through the density at the temperature of the sample. Whatever else is
 * dissolved must be stated in `dissolved` (g/L at the same temperature; an empty list says nothing is): 10 g/L of
 * aluminium makes 180 g/L of sulfuric acid read 277. Left out, the result is flagged.
 *
 * Valid for densities between water and the strongest liquid on file; flagged as {@link mixtureDensity}.
 * `calibrationTemperatureC` is that of the instrument, default 20 (15.56 for the 60 °F scales). Standard
 * uncertainties default to 0.001 g/mL and 1 °C.
 * Source: rho(t) = reading (1 - 2.5e-5 (t - t_cal)) for soda glass; u(w) = sqrt(u_rho^2 + (drho/dt
 * u_t)^2)/(drho/dw).
 * Errors: `unknown` solute or scale; `impossible` for a reading that no strength gives; `out-of-range` or
 * `not-finite`.
 *
 * @example
 * concentrationFromHydrometer({
 *   solute: 'KOH',
 *   scale: 'g/mL',
 *   reading: 1.478,
 *   sampleTemperatureC: 40,
 *   dissolved: [],
 * })
 * // { densityKgPerM3: 1477.261, component: { massFraction: 0.4809, gramsPerLitre: 710.414 }, flags: [] }
 */
export function concentrationFromHydrometer(input: {
  solute: Solute;
  scale: HydrometerScale;
  reading: number;
  sampleTemperatureC: number;
  calibrationTemperatureC?: number;
  dissolved?: readonly { solute: DissolvedSalt; gramsPerLitre: number }[];
  uncertainty?: { gramsPerMl?: number; temperatureC?: number };
}): HydrometerResult {
  const solute = checkSolute(input.solute);
  const scale = checkName('scale', input.scale, Object.keys(toGramsPerMl) as HydrometerScale[]);
  const t = checkTemperature('sampleTemperatureC', input.sampleTemperatureC);
  const calibrationC = checkTemperature(
    'calibrationTemperatureC',
    input.calibrationTemperatureC ?? (scale === 'g/mL' ? 20 : 15.56),
  );
  const reading = checkNumber('reading', input.reading, { min: 0, below: scale === 'Baume' ? 145 : 1000 });
  const others = (input.dissolved ?? []).map((other) => ({
    solute: checkName('dissolved.solute', other.solute, dissolvedSalts),
    gramsPerLitre: checkNumber('dissolved.gramsPerLitre', other.gramsPerLitre, { min: 0, max: 1000 }),
  }));

  const densityKgPerM3 = 1000 * toGramsPerMl[scale](reading) * (1 - glassExpansion * (t - calibrationC));
  const otherParts: Part[] = others.map((other) => ({
    solute: other.solute,
    massFraction: other.gramsPerLitre / densityKgPerM3,
  }));
  const otherFraction = otherParts.reduce((sum, part) => sum + part.massFraction, 0);
  const at = (massFraction: number, temperatureC: number): number =>
    otherParts.length === 0
      ? liquidDensity({ solute, massFraction, temperatureC })
      : mixtureKgPerM3([{ solute, massFraction }, ...otherParts], temperatureC);

  const high = strongest(solute) - otherFraction;
  if (high <= 0 || densityKgPerM3 < at(0, t) || densityKgPerM3 > at(high, t)) {
    throw new CalcError({
      code: 'impossible',
      argument: 'reading',
      given: reading,
      allowed: `a density between ${at(0, t).toFixed(1)} and ${at(Math.max(high, 0), t).toFixed(1)} kg/m3 at ${t} °C`,
    });
  }
  const massFraction = bisect({ f: (w) => at(w, t) - densityKgPerM3, low: 0, high });
  const slope = slopeAround((w) => at(w, t), massFraction, 1e-4);
  const expansion = slopeAround((c) => at(massFraction, c), t, 0.1);
  const uRho =
    1000 * checkNumber('uncertainty.gramsPerMl', input.uncertainty?.gramsPerMl ?? 0.001, { min: 0 });
  const uT = checkNumber('uncertainty.temperatureC', input.uncertainty?.temperatureC ?? 1, { min: 0 });
  const uMassFraction = Math.hypot(uRho, expansion * uT) / slope;
  const gramsPerLitre = massFraction * densityKgPerM3;
  const uGramsPerLitre = Math.hypot(uMassFraction * densityKgPerM3, massFraction * uRho);
  const gramsPerMol = molarMass[solute];
  const flags = mixtureFlags([{ solute, massFraction }, ...otherParts], t);
  if (!input.dissolved)
    flags.push('assumes that nothing else is dissolved: carbonate or metal makes it read high');
  return {
    component: {
      molPerLitre: gramsPerLitre / gramsPerMol,
      gramsPerLitre,
      massFraction,
      standardUncertainty: {
        molPerLitre: uGramsPerLitre / gramsPerMol,
        gramsPerLitre: uGramsPerLitre,
        massFraction: uMassFraction,
      },
    },
    densityKgPerM3,
    sourceBandMassFraction: densityBand({ solute, massFraction, temperatureC: t }) / slope,
    flags,
  };
}

/** Slope by a central difference. */
const slopeAround = (f: (x: number) => number, x: number, step: number): number =>
  (f(x + step) - f(x - step)) / (2 * step);
