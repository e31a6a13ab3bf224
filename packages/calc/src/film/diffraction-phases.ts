import { checkName, checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';
import { type PhaseName, phaseNames, phaseOf, type Radiation } from './data/phases.ts';
import { phaseLines } from './phase-lines.ts';

export interface DiffractionPeak {
  phase: PhaseName;
  twoThetaDeg: number;
  /** Above the background, in any unit that all peaks share: area, or height. */
  intensity: number;
  /** Standard, in the unit of the intensity. */
  intensityUncertainty: number;
}

export interface Diffraction {
  radiation: Radiation;
  peaks: readonly DiffractionPeak[];
  /** Reference intensity ratios (to corundum) by phase, where the person has them. */
  referenceRatios: Partial<Record<PhaseName, number>>;
}

export interface PhaseShare {
  phase: PhaseName;
  peaks: number;
  /** Of the strongest peak. */
  strongest: number;
  /** Of all intensity that was read, the metal included, 0 to 1: no amount of anything. */
  intensityShare: number;
  intensityShareUncertainty: number;
  /** Mass of all phases that have a ratio, 0 to 1, by those ratios; null where this phase has none. */
  massShare: number | null;
  /** From the intensities alone: the ratios are taken as they were given. */
  massShareUncertainty: number | null;
}

/** Further than this from every line of its phase, a peak is named wrongly or shifted, degrees of two theta. */
const TOLERANCE_DEG = 0.5;

/**
 * Which phases a diffractogram shows, by peaks that a person read and named, and their relative mass by reference intensity
 * ratios where those are given. Nothing is said of thickness: a film lets the metal through by its own absorption, and
 * without the same metal bare beside it that cannot be told from texture.
 *
 * The mass shares hold for a powder-like film without preferred orientation that is thick against the path of the X-rays, which
 * a thin film on its metal is not: they are an order, and leave out whatever is amorphous. 1 to 200 peaks, two theta above 0 to
 * below 180°, intensity above 0, ratios 0.01 to 100; the strongest peak of each phase counts.
 * Source: F. H. Chung, J. Appl. Cryst. 7 (1974) 519 (adiabatic principle; from memory); lines by {@link phaseLines}.
 * Errors: `unknown` for a phase or radiation, `not-finite`, `out-of-range`; `impossible` for a ratio of a phase without a peak.
 *
 * @example
 * const peaks = [
 *   { phase: 'magnetite', twoThetaDeg: 35.4, intensity: 490, intensityUncertainty: 0 },
 *   { phase: 'hematite', twoThetaDeg: 33.2, intensity: 240, intensityUncertainty: 24 },
 * ];
 * diffractionPhases({ radiation: 'Cu-Ka', peaks, referenceRatios: { magnetite: 4.9, hematite: 2.4 } })
 * // { phases: [{ phase: 'magnetite', massShare: 0.5 }, { phase: 'hematite', massShare: 0.5, massShareUncertainty: 0.025 }] }
 */
export function diffractionPhases({ radiation, peaks, referenceRatios }: Diffraction): {
  phases: PhaseShare[];
  flags: string[];
} {
  checkNumber('peaks.length', peaks.length, { min: 1, max: 200 });
  const read = peaks.map(({ phase, twoThetaDeg, intensity, intensityUncertainty }, index) => ({
    phase: checkName(`peaks[${index}].phase`, phase, phaseNames),
    twoThetaDeg: checkNumber(`peaks[${index}].twoThetaDeg`, twoThetaDeg, { above: 0, below: 180 }),
    intensity: checkNumber(`peaks[${index}].intensity`, intensity, { above: 0, max: 1e12 }),
    intensityUncertainty: checkNumber(`peaks[${index}].intensityUncertainty`, intensityUncertainty, {
      min: 0,
      max: 1e12,
    }),
  }));
  const found = [...new Set(read.map(({ phase }) => phase))];
  const ratios = checkRatios(referenceRatios, found);
  const byPhase = found.map((phase) => {
    const own = read.filter((peak) => peak.phase === phase);
    const strongest = own.reduce((best, peak) => (peak.intensity > best.intensity ? peak : best));
    return { phase, own, strongest, ratio: ratios.get(phase) };
  });
  const intensities = sharesOf(
    byPhase.map(({ own }) => ({
      value: own.reduce((sum, { intensity }) => sum + intensity, 0),
      uncertainty: Math.hypot(...own.map(({ intensityUncertainty }) => intensityUncertainty)),
    })),
  );
  const masses = sharesOf(
    byPhase.map(({ strongest, ratio }) => ({
      value: ratio === undefined ? 0 : strongest.intensity / ratio,
      uncertainty: ratio === undefined ? 0 : strongest.intensityUncertainty / ratio,
    })),
  );
  const phases = byPhase.map(({ phase, own, strongest, ratio }, index) => ({
    ...{ phase, peaks: own.length, strongest: strongest.intensity },
    intensityShare: intensities[index]?.share ?? 0,
    intensityShareUncertainty: intensities[index]?.uncertainty ?? 0,
    massShare: ratio === undefined ? null : (masses[index]?.share ?? null),
    massShareUncertainty: ratio === undefined ? null : (masses[index]?.uncertainty ?? null),
  }));
  return {
    phases: phases.toSorted((a, b) => b.intensityShare - a.intensityShare),
    flags: [...read.flatMap((peak) => misplaced(peak, radiation)), ...spinels(found)],
  };
}

/** Each as a share of all, with what is left of its uncertainty: what one part gains, the others lose. */
function sharesOf(parts: readonly { value: number; uncertainty: number }[]) {
  const whole = parts.reduce((sum, { value }) => sum + value, 0) || 1;
  return parts.map(({ value, uncertainty }, index) => {
    const share = value / whole;
    const others = Math.hypot(...parts.filter((_, other) => other !== index).map((part) => part.uncertainty));
    return { share, uncertainty: Math.hypot((1 - share) * uncertainty, share * others) / whole };
  });
}

function checkRatios(referenceRatios: Diffraction['referenceRatios'], found: readonly PhaseName[]) {
  const ratios = new Map<PhaseName, number>();
  for (const [key, value] of Object.entries(referenceRatios)) {
    const phase = checkName('referenceRatios', key, phaseNames);
    const argument = `referenceRatios.${phase}`;
    ratios.set(phase, checkNumber(argument, value, { min: 0.01, max: 100 }));
    if (!found.includes(phase)) {
      throw new CalcError({
        ...{ code: 'impossible', argument, given: value },
        allowed: 'a ratio of a phase that has a peak',
      });
    }
  }
  return ratios;
}

function misplaced(
  { phase, twoThetaDeg }: Pick<DiffractionPeak, 'phase' | 'twoThetaDeg'>,
  radiation: Radiation,
): string[] {
  const lines = phaseLines({ phase, radiation });
  const off = (line: { twoThetaDeg: number }) => Math.abs(line.twoThetaDeg - twoThetaDeg);
  const [nearest] = lines.toSorted((a, b) => off(a) - off(b));
  if (nearest === undefined || off(nearest) <= TOLERANCE_DEG) return [];
  return [
    `${twoThetaDeg.toFixed(1)}° is no strong line of ${phaseOf(phase).name}: the nearest is ${nearest.hkl} at ${nearest.twoThetaDeg.toFixed(1)}°`,
  ];
}

const spinels = (found: readonly PhaseName[]): string[] =>
  found.includes('magnetite') || found.includes('maghemite')
    ? [
        'magnetite and maghemite lie within about 0.3° of each other: these lines alone do not tell them apart',
      ]
    : [];
