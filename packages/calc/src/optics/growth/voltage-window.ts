import type { Lab } from '../../colour/colour-types.ts';
import { ciede2000 } from '../../colour/delta-e.ts';
import { checkLab } from '../../colour/lab.ts';
import { bisect } from '../../numeric/root.ts';
import { colourDips, type Dip, type VoltageColours, voltageColours } from './colour-dips.ts';
import { type FilmGrowth, growthFlags } from './growth.ts';
import { checkTolerance, uncertaintyV } from './match-colour.ts';

/** A stretch of voltage whose colours all pass. */
export interface PassingStretch {
  lowestVoltageV: number;
  highestVoltageV: number;
  bestVoltageV: number;
  /** At the best voltage. */
  deltaE: number;
  order: number;
  /** From the best voltage to the nearer end. */
  marginV: number;
  /** Half the 95 % interval of the voltage from the growth fit; null where nothing supports one. */
  uncertaintyV: number | null;
  /** The stretch is cut off by the coupons, not by the tolerance. */
  endsWithCoupons: boolean;
}

export interface VoltageWindow {
  /** Of the stretch with the best match; null when no voltage passes. */
  lowestVoltageV: number | null;
  highestVoltageV: number | null;
  bestVoltageV: number | null;
  deltaE: number | null;
  /** Every stretch that passes, by voltage: the same colour in other orders. */
  stretches: PassingStretch[];
  flags: string[];
}

/**
 * The lowest and highest voltage whose colour is still within tolerance of a target, in every order in which
 * one is; nothing outside the coupons of the growth law.
 *
 * `target`: CIELAB (D65, 2 degree, specular included); `toleranceDeltaE` above 0 to 50 dE00. The margin is of
 * the law, not of the shop: set beside the spread of the supply and the uncertainty that is returned with it.
 * Source: `filmColour` along the growth law; CIEDE2000.
 * Errors: `not-finite`, `out-of-range` for target or tolerance.
 *
 * @example
 * const growth = nominalGrowth({ system: 'titanium' });
 * const target = filmColour({ system: 'titanium', thicknessNm: 50 }).lab;
 * voltageWindow({ target, toleranceDeltaE: 3, growth })
 * // { lowestVoltageV: 21.28, highestVoltageV: 22.39, bestVoltageV: 21.82 }
 */
export function voltageWindow(input: {
  target: Lab;
  toleranceDeltaE: number;
  growth: FilmGrowth;
}): VoltageWindow {
  const target = checkLab('target', input.target);
  const tolerance = checkTolerance(input.toleranceDeltaE);
  const { growth } = input;
  const colours = voltageColours(growth);
  const stretches = passingStretches(colours, target, tolerance).map(({ dip, low, high }): PassingStretch => {
    return {
      lowestVoltageV: low,
      highestVoltageV: high,
      bestVoltageV: dip.voltageV,
      deltaE: dip.deltaE,
      order: colours.orderAt(dip.voltageV),
      marginV: Math.min(dip.voltageV - low, high - dip.voltageV),
      uncertaintyV: uncertaintyV(growth, dip.voltageV),
      endsWithCoupons: low === colours.lowV || high === colours.highV,
    };
  });
  const [best] = stretches.toSorted((a, b) => a.deltaE - b.deltaE);
  return {
    lowestVoltageV: best?.lowestVoltageV ?? null,
    highestVoltageV: best?.highestVoltageV ?? null,
    bestVoltageV: best?.bestVoltageV ?? null,
    deltaE: best?.deltaE ?? null,
    stretches,
    flags: flagsOf(growth, best),
  };
}

function flagsOf(growth: FilmGrowth, best: PassingStretch | undefined): string[] {
  const { lowestVoltageV, highestVoltageV } = growth;
  return [
    ...growthFlags(growth),
    ...(best ? [] : [`no voltage between ${lowestVoltageV} and ${highestVoltageV} V comes within tolerance`]),
    ...(best?.endsWithCoupons ? ['the window is cut off where the coupons end'] : []),
    ...(best && best.uncertaintyV !== null && best.uncertaintyV > best.marginV
      ? ['the growth law is known less exactly than the window is wide: prove it on coupons']
      : []),
  ];
}

interface Stretch {
  dip: Dip;
  low: number;
  high: number;
}

/**
 * Around every passing dip the voltages up to where the colour fails or the coupons end; dips in one stretch
 * share it.
 */
function passingStretches(colours: VoltageColours, target: Lab, tolerance: number): Stretch[] {
  const excessAt = (voltageV: number) => ciede2000(target, colours.labAt(voltageV)) - tolerance;
  const stretches: Stretch[] = [];
  for (const dip of colourDips(colours, target).filter(({ deltaE }) => deltaE <= tolerance)) {
    const last = stretches.at(-1);
    if (!last || dip.voltageV > last.high) {
      const edge = (limit: number) =>
        passingEdge({ excessAt, from: dip.voltageV, limit, stepV: colours.stepV / 2 });
      stretches.push({ dip, low: edge(colours.lowV), high: edge(colours.highV) });
    } else if (dip.deltaE < last.dip.deltaE) {
      last.dip = dip;
    }
  }
  return stretches;
}

/** The last voltage that passes on the way from a passing one to `limit`. */
function passingEdge(options: {
  excessAt: (voltageV: number) => number;
  from: number;
  limit: number;
  stepV: number;
}): number {
  const { excessAt, limit, stepV } = options;
  let inside = options.from;
  while (inside !== limit) {
    const left = limit - inside;
    const next = Math.abs(left) <= stepV ? limit : inside + Math.sign(left) * stepV;
    if (excessAt(next) > 0) {
      return bisect({ f: excessAt, low: Math.min(inside, next), high: Math.max(inside, next) });
    }
    inside = next;
  }
  return limit;
}
