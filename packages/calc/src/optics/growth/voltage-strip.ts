import { checkNumber, checkWhole } from '../../check.ts';
import type { Lab } from '../../colour/colour-types.ts';
import { ciede2000 } from '../../colour/delta-e.ts';
import { labToXyz } from '../../colour/lab.ts';
import { xyzToSrgb } from '../../colour/srgb.ts';
import { CalcError } from '../../errors.ts';
import { voltageColours } from './colour-dips.ts';
import { type FilmGrowth, thicknessOf } from './growth.ts';

/** One place on a strip of colours. */
export interface StripColour {
  voltageV: number;
  thicknessNm: number;
  /** Of the colour: 1 is the thinnest film. */
  order: number;
  lab: Lab;
  /** `#rrggbb`, the nearest a screen can show. */
  hex: string;
  /** False where no screen can show it. */
  inGamut: boolean;
  /** How fast the colour changes here, dE00 per volt. */
  steepnessDeltaEPerV: number;
  /** Within what the growth law rests on: the coupons of a fitted one, the published range of a nominal one. */
  isSupported: boolean;
}

/** Of one volt, either way: short against any colour's stretch. */
const HALF_SPAN_V = 0.1;

/**
 * The colour that a growth law gives at one voltage, as a strip shows it.
 *
 * `voltageV` from 0 to 1000. Outside of what the law rests on the colour is given and `isSupported` is false: it shows where to
 * look next, and is nothing to run work by.
 * Source: `filmColour` along the growth law; CIEDE2000. Errors: `not-finite`, `out-of-range` for the voltage.
 *
 * @example
 * colourAtVoltage({ growth: nominalGrowth({ system: 'titanium' }), voltageV: 21.82 })
 * // { thicknessNm: 50.004, order: 1, hex: '#3c64ab', inGamut: true, isSupported: true }
 */
export function colourAtVoltage({ growth, voltageV }: { growth: FilmGrowth; voltageV: number }): StripColour {
  checkNumber('voltageV', voltageV, { min: 0, max: 1000 });
  return stripOf(growth)(voltageV);
}

/**
 * Colours against voltage in equal steps, both ends included, to be drawn side by side.
 *
 * `fromV` below `toV`, 0 to 1000; `steps` 1 to 4000 of them, which gives one colour more.
 * Source: `filmColour` along the growth law. Errors: `not-finite`, `out-of-range`; `impossible` where the ends do not rise.
 *
 * @example
 * voltageStrip({ growth: nominalGrowth({ system: 'niobium' }), fromV: 0, toV: 100, steps: 2 }).map(({ voltageV }) => voltageV)
 * // [0, 50, 100]
 */
export function voltageStrip({
  growth,
  fromV,
  toV,
  steps,
}: {
  growth: FilmGrowth;
  fromV: number;
  toV: number;
  steps: number;
}): StripColour[] {
  checkNumber('fromV', fromV, { min: 0, max: 1000 });
  checkNumber('toV', toV, { min: 0, max: 1000 });
  if (!(fromV < toV))
    throw new CalcError({ code: 'impossible', argument: 'toV', given: toV, allowed: `more than ${fromV}` });
  checkWhole('steps', steps, { min: 1, max: 4000 });
  const colourAt = stripOf(growth);
  return Array.from({ length: steps + 1 }, (_, index) => colourAt(fromV + ((toV - fromV) * index) / steps));
}

function stripOf(growth: FilmGrowth): (voltageV: number) => StripColour {
  const colours = voltageColours(growth);
  return (voltageV) => {
    const lab = colours.labAt(voltageV);
    const { hex, inGamut } = shown(lab);
    const [from, to] = [Math.max(0, voltageV - HALF_SPAN_V), voltageV + HALF_SPAN_V];
    return {
      voltageV,
      thicknessNm: thicknessOf(growth, voltageV),
      order: colours.orderAt(voltageV),
      ...{ lab, hex, inGamut },
      steepnessDeltaEPerV: ciede2000(colours.labAt(from), colours.labAt(to)) / (to - from),
      isSupported: voltageV >= growth.lowestVoltageV && voltageV <= growth.highestVoltageV,
    };
  };
}

function shown(lab: Lab): { hex: string; inGamut: boolean } {
  const { srgb, inGamut } = xyzToSrgb(labToXyz(lab));
  return { hex: srgb.hex, inGamut };
}
