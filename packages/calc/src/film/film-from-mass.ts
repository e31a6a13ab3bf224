import { checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';
import { thicknessFigure, type ThicknessFigure } from './thickness-figure.ts';

export interface StrippedFilm {
  /** With its film, dry. */
  massBeforeG: number;
  /** After each cycle of stripping, rinsed and dried, in order. */
  massesAfterG: readonly number[];
  /** Of one weighing, standard. */
  weighingUncertaintyG: number;
  /** What a bare piece of the metal loses in the same bath and time; 0 where none was run. */
  blankLossG: number;
  /** That the film covered. */
  areaMm2: number;
  areaUncertaintyMm2: number;
  /** Of the film without its pores. */
  densityKgPerM3: number;
  densityUncertaintyKgPerM3: number;
  /** Share of the film's volume that is pores, 0 to below 1. */
  porosity: number;
  porosityUncertainty: number;
}

export interface MassFilm extends ThicknessFigure {
  filmMassG: number;
  massPerAreaGPerM2: number;
  massPerAreaUncertaintyGPerM2: number;
  flags: string[];
}

/**
 * Film mass per area and thickness by stripping: weighed, stripped, rinsed, dried and weighed again until the mass stays. What a
 * bare piece loses in the same bath is taken off.
 *
 * The mass is what is measured; the thickness is the mass through a density and a porosity, and is no better than those. It
 * counts everything that the stripping takes: a bath that attacks the metal shows the film too thick.
 *
 * Masses 0 to 100,000 g, area above 0 to 1e8 mm², density 500 to 25,000 kg/m³, porosity 0 to 0.95; every uncertainty is standard.
 * Source: ISO 3892 (conversion coatings, gravimetric) and ISO 2106 (oxide on aluminium) for the method, ISO 8407 for stripping to
 * constant mass and the bare piece (all from memory); JCGM 100:2008 (GUM) 5.1 for the uncertainty.
 * Errors: `impossible` for a piece that weighs no less after stripping; `not-finite`, `out-of-range`.
 *
 * @example
 * filmFromMass({ massBeforeG: 12.00517, massesAfterG: [12.00005, 12], weighingUncertaintyG: 0.00005, blankLossG: 0, areaMm2: 5000, areaUncertaintyMm2: 50,
 *   densityKgPerM3: 5170, densityUncertaintyKgPerM3: 0, porosity: 0, porosityUncertainty: 0 })
 * // { massPerAreaGPerM2: 1.034, thicknessNm: 200, standardUncertaintyNm: 3.39, flags: [] }
 */
export function filmFromMass(stripped: StrippedFilm): MassFilm {
  const { massesAfterG } = stripped;
  const mass = { above: 0, max: 100_000 };
  const before = checkNumber('massBeforeG', stripped.massBeforeG, mass);
  checkNumber('massesAfterG.length', massesAfterG.length, { min: 1, max: 50 });
  const after = massesAfterG.map((one, index) => checkNumber(`massesAfterG[${index}]`, one, mass));
  const weighing = checkNumber('weighingUncertaintyG', stripped.weighingUncertaintyG, {
    above: 0,
    max: 1000,
  });
  const blank = checkNumber('blankLossG', stripped.blankLossG, { min: 0, max: 1000 });
  const area = checkNumber('areaMm2', stripped.areaMm2, { above: 0, max: 1e8 });
  const areaU = checkNumber('areaUncertaintyMm2', stripped.areaUncertaintyMm2, { min: 0, max: area });
  const density = checkNumber('densityKgPerM3', stripped.densityKgPerM3, { min: 500, max: 25_000 });
  const densityU = checkNumber('densityUncertaintyKgPerM3', stripped.densityUncertaintyKgPerM3, {
    min: 0,
    max: density,
  });
  const porosity = checkNumber('porosity', stripped.porosity, { min: 0, max: 0.95 });
  const porosityU = checkNumber('porosityUncertainty', stripped.porosityUncertainty, { min: 0, max: 0.5 });

  const last = after.at(-1) ?? 0;
  const filmMassG = before - last - blank;
  if (!(filmMassG > 0)) {
    throw new CalcError({
      ...{ code: 'impossible', argument: `massesAfterG[${after.length - 1}]`, given: last },
      allowed:
        blank > 0
          ? 'less than the mass before, by more than a bare piece loses'
          : 'less than the mass before stripping: a film that is stripped leaves the piece lighter',
    });
  }
  // Two weighings; two more of the bare piece where one was run.
  const filmMassU = weighing * Math.sqrt(blank > 0 ? 4 : 2);
  const massPerAreaGPerM2 = (filmMassG / area) * 1e6;
  const thicknessNm = (massPerAreaGPerM2 / (density * (1 - porosity))) * 1e6;
  const known = (source: string, relative: number) => ({
    ...{ source, standardUncertainty: relative * thicknessNm, degreesOfFreedom: null },
  });
  return {
    ...thicknessFigure(thicknessNm, [
      known('weighing', filmMassU / filmMassG),
      known('area', areaU / area),
      known('density of the film', densityU / density),
      known('porosity of the film', porosityU / (1 - porosity)),
    ]),
    filmMassG,
    massPerAreaGPerM2,
    massPerAreaUncertaintyGPerM2: massPerAreaGPerM2 * Math.hypot(filmMassU / filmMassG, areaU / area),
    flags: flagsOf({ after, filmMassG, filmMassU, weighing, blank }),
  };
}

function flagsOf({
  after,
  filmMassG,
  filmMassU,
  weighing,
  blank,
}: {
  after: readonly number[];
  filmMassG: number;
  filmMassU: number;
  weighing: number;
  blank: number;
}): string[] {
  const [last, previous] = [after.at(-1) ?? 0, after.at(-2)];
  /** Between two weighings, 95 %. */
  const noise = 2 * Math.SQRT2 * weighing;
  const flags: string[] = [];
  if (previous === undefined) flags.push('one weighing after stripping: constant mass was not shown');
  else if (previous - last > noise) flags.push('the mass still falls between the last two weighings');
  else if (last - previous > noise)
    flags.push('the mass rose between the last two weighings: was the piece dry?');
  if (filmMassG < 2 * filmMassU) flags.push('the loss is no more than the uncertainty of the weighing');
  if (filmMassG < blank) flags.push('the bare piece lost more than the film weighs');
  return flags;
}
