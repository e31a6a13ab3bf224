import { boilingPoint } from '../heat/boiling-point.ts';
import { densityCoefficients } from './data/density-model.ts';
import {
  sodiumHydroxideModelEnds,
  strongSodiumHydroxide,
  strongSulfuricAcidAt20C,
  trisodiumPhosphateAt20C,
} from './data/density-tables.ts';
import { modelDensity } from './density-model.ts';
import { percent } from './inputs.ts';
import { interpolate } from './interpolate.ts';
import type { Solute } from './solutes.ts';

interface Point {
  solute: Solute;
  massFraction: number;
  temperatureC: number;
}

const model = (solute: Solute, w: number, t: number): number =>
  modelDensity([{ solute, massFraction: w }], t);

/** Density in kg/m3 for inputs that are already checked, as the loops of the inverse functions need it. */
export function liquidDensity({ solute, massFraction, temperatureC }: Point): number {
  if (solute === 'NaOH') return sodiumHydroxide(massFraction, temperatureC);
  if (solute === 'H2SO4') return sulfuricAcid(massFraction, temperatureC);
  if (solute === 'Na3PO4') return trisodiumPhosphate(massFraction, temperatureC);
  return model(solute, massFraction, temperatureC);
}

function sodiumHydroxide(w: number, t: number): number {
  const weak = sodiumHydroxideModelEnds;
  const strong = strongSodiumHydroxide.minMassFraction;
  if (w <= weak) return model('NaOH', w, t);
  if (w >= strong) return strongSodiumHydroxideFit(w, t);
  const between: [number, number][] = [
    [weak, model('NaOH', weak, t)],
    [strong, strongSodiumHydroxideFit(strong, t)],
  ];
  return interpolate(between, w);
}

function strongSodiumHydroxideFit(w: number, t: number): number {
  const { a, b, c, d, e, f } = strongSodiumHydroxide;
  return 1000 * (a + b * w + c * w * w + d * t + e * w * t + f * t * t);
}

/** Beyond the model the 20 °C table stands, carried to other temperatures with the expansion at the model's end. */
function sulfuricAcid(w: number, t: number): number {
  const end = densityCoefficients.H2SO4.maxMassFraction;
  if (w <= end) return model('H2SO4', w, t);
  const at20C = interpolate([[end, model('H2SO4', end, 20)], ...strongSulfuricAcidAt20C], w);
  return (at20C * model('H2SO4', end, t)) / model('H2SO4', end, 20);
}

/** The 20 °C table, carried to other temperatures with the expansion that the model gives. */
function trisodiumPhosphate(w: number, t: number): number {
  const strongest = trisodiumPhosphateAt20C.at(-1)?.[0] ?? 0;
  const anchor = Math.min(w, strongest);
  const correction =
    interpolate([[0, model('Na3PO4', 0, 20)], ...trisodiumPhosphateAt20C], anchor) /
    model('Na3PO4', anchor, 20);
  return model('Na3PO4', w, t) * correction;
}

const strongest: Readonly<Record<Solute, number>> = {
  KOH: densityCoefficients.KOH.maxMassFraction,
  NaOH: strongSodiumHydroxide.maxMassFraction,
  H2SO4: 1,
  H3PO4: densityCoefficients.H3PO4.maxMassFraction,
  Na3PO4: trisodiumPhosphateAt20C.at(-1)?.[0] ?? 0,
  K2CO3: densityCoefficients.K2CO3.maxMassFraction,
  Na2CO3: densityCoefficients.Na2CO3.maxMassFraction,
  NH4_2SO4: densityCoefficients.NH4_2SO4.maxMassFraction,
};

function temperatureRange({ solute, massFraction }: Point): { minC: number; maxC: number } {
  if (solute === 'NaOH' && massFraction > sodiumHydroxideModelEnds) return strongSodiumHydroxide;
  if (solute === 'Na3PO4') return { minC: 20, maxC: densityCoefficients.Na3PO4.maxC };
  return densityCoefficients[solute];
}

/** Water boils at 100 °C, whatever is in it somewhat above; the curve of the caustics is on file. */
function boilingFlags({ solute, massFraction, temperatureC }: Point): string[] {
  if (temperatureC <= 100) return [];
  const isOnFile = (solute === 'KOH' || solute === 'NaOH') && massFraction <= 0.6;
  if (!isOnFile) return [`${temperatureC} °C is above 100 °C: the liquid may boil in an open tank`];
  const boilsAtC = boilingPoint({ solute, massFraction }).temperatureC;
  return temperatureC < boilsAtC
    ? []
    : [`${temperatureC} °C is above ${boilsAtC.toFixed(0)} °C, where ${solute} of this strength boils`];
}

/** Sentences for every way in which a point leaves what its source covers. */
export function densityFlags(point: Point): string[] {
  const { solute, massFraction, temperatureC } = point;
  const { minC, maxC } = temperatureRange(point);
  const flags = boilingFlags(point);
  if (massFraction > strongest[solute]) {
    flags.push(`density of ${solute} extrapolated: its source ends at ${percent(strongest[solute])}`);
  }
  if (temperatureC < minC || temperatureC > maxC) {
    flags.push(`density of ${solute} extrapolated: its source covers ${minC} to ${maxC} °C`);
  }
  const expansionBorrowed = solute === 'H2SO4' && massFraction > densityCoefficients.H2SO4.maxMassFraction;
  if (expansionBorrowed && temperatureC !== 20) {
    flags.push(
      `density of H2SO4 above 78.2 wt% is tabulated at 20 °C; carried over with the expansion at 78.2 wt%`,
    );
  }
  return flags;
}

/**
 * Half the spread of published values over the density, at 15 wt% and above; below that it falls to zero with the
 * strength. KOH: 1512 +-8 at 50 wt%, 20 °C; the others: largest deviation found in the cross-check of the sources.
 */
const relativeBand: Readonly<Record<Solute, number>> = {
  KOH: 0.0053,
  NaOH: 0.0035,
  H2SO4: 0.0013,
  H3PO4: 0.0011,
  Na3PO4: 0.0057,
  K2CO3: 0.0048,
  Na2CO3: 0.0006,
  NH4_2SO4: 0.0009,
};

/** Outside its source a density is believed half as well. Common practice, no source. */
const EXTRAPOLATED_BAND = 2;

/** See {@link relativeBand}; kg/m3. */
export function densityBand(point: Point): number {
  const { solute, massFraction, temperatureC } = point;
  const { minC, maxC } = temperatureRange(point);
  const covered = massFraction <= strongest[solute] && temperatureC >= minC && temperatureC <= maxC;
  const band = liquidDensity(point) * relativeBand[solute] * Math.min(1, massFraction / 0.15);
  return covered ? band : EXTRAPOLATED_BAND * band;
}
