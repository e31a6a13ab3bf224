import type { Lab } from '../../colour/colour-types.ts';
import { ciede2000 } from '../../colour/delta-e.ts';
import { colourPathOf } from '../colour-path.ts';
import { goldenSection } from '../../numeric/golden-section.ts';
import { type FilmGrowth, modelOfGrowth, thicknessOf } from './growth.ts';

/** Colours against voltage over the range that a growth law covers. */
export interface VoltageColours {
  lowV: number;
  highV: number;
  /** Step of voltage in which a film thickens by at most 1 nm: no colour comes and goes unseen in one. */
  stepV: number;
  thicknessAt: (voltageV: number) => number;
  labAt: (voltageV: number) => Lab;
  orderAt: (voltageV: number) => number;
}

export function voltageColours(growth: FilmGrowth): VoltageColours {
  const model = modelOfGrowth(growth);
  const path = colourPathOf(model);
  const { lowestVoltageV: lowV, highestVoltageV: highV, slopeNmPerV, curvatureNmPerV2 } = growth;
  const steepest = Math.max(
    slopeNmPerV + 2 * curvatureNmPerV2 * lowV,
    slopeNmPerV + 2 * curvatureNmPerV2 * highV,
  );
  return {
    lowV,
    highV,
    stepV: Math.min(1 / Math.max(steepest, 0.01), (highV - lowV) / 4),
    thicknessAt: (voltageV) => thicknessOf(growth, voltageV),
    labAt: (voltageV) => path.labAt(thicknessOf(growth, voltageV)),
    orderAt: (voltageV) => Math.floor(model.halfWavesAt(thicknessOf(growth, voltageV))) + 1,
  };
}

export interface Dip {
  voltageV: number;
  deltaE: number;
  /** The range of the growth law ends here while the colour is still coming nearer. */
  atRangeEnd: boolean;
}

/** No supply is set finer. */
const AT_END_V = 0.005;

/** Every voltage whose colour is nearer to `target` than those around it, lowest voltage first. */
export function colourDips(colours: VoltageColours, target: Lab): Dip[] {
  const { lowV, highV, stepV } = colours;
  const deltaEAt = (voltageV: number) => ciede2000(target, colours.labAt(voltageV));
  const count = Math.ceil((highV - lowV) / stepV);
  const voltageAt = (i: number) => Math.min(highV, lowV + Math.max(0, i) * stepV);
  const values = Array.from({ length: count + 1 }, (_, i) => deltaEAt(voltageAt(i)));
  return values.flatMap((value, i) => {
    const [before = Infinity, after = Infinity] = [values[i - 1], values[i + 1]];
    // The first of equal neighbours stands for all of them.
    if (!(value < before && value <= after)) return [];
    const inner = goldenSection({ f: deltaEAt, low: voltageAt(i - 1), high: voltageAt(i + 1) });
    const end = [lowV, highV].find((limit) => Math.abs(limit - inner) < AT_END_V);
    const voltageV = end ?? inner;
    return { voltageV, deltaE: deltaEAt(voltageV), atRangeEnd: end !== undefined };
  });
}
