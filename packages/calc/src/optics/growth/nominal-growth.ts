import { checkAngle, checkVoidFraction } from '../check-stack.ts';
import { airFormedFilmNm, anodizingRatios, publishedUpToV } from '../data/anodizing-ratios.ts';
import { resolveSystem, type System } from '../resolve-system.ts';
import { checkBarrierSystem, type FilmGrowth } from './growth.ts';

/** Starting points inside the published range where its middle is not the best guess. */
const STARTING_NM_PER_V: Readonly<Record<string, number>> = { Ti: 2.2 };

/** The span of every published ratio for a metal, nm/V. */
export function publishedRatio(metal: string): { low: number; high: number } {
  const ratios = anodizingRatios.filter((ratio) => ratio.metal === metal);
  return {
    low: Math.min(...ratios.map((ratio) => ratio.lowNmPerV)),
    high: Math.max(...ratios.map((ratio) => ratio.highNmPerV)),
  };
}

/**
 * A growth law out of the literature, to start from while a shop has no coupons: the middle of the published
 * ratios (2.2 nm/V for titanium, which fits most published voltage colours) on the film that air forms.
 * Expect a voltage to be off by 20 % and more: electrolytes differ, and so do the optical constants behind
 * the ratios.
 *
 * `system`: titanium, niobium, tantalum, zirconium or two sets of such a metal.
 * Source: the ratios in `data/anodizing-ratios.ts`, each with its mark.
 * Errors: `unknown` for a system; `impossible` for steel and aluminium, whose films do not follow voltage.
 *
 * @example
 * nominalGrowth({ system: 'titanium' }) // { offsetNm: 2, slopeNmPerV: 2.2, highestVoltageV: 140, regime: null }
 */
export function nominalGrowth(input: {
  system: System;
  angleDeg?: number;
  voidFraction?: number;
}): FilmGrowth {
  const system = checkBarrierSystem(input.system);
  const metal = resolveSystem(system).substrate.material;
  const { low, high } = publishedRatio(metal);
  return {
    system,
    angleDeg: checkAngle(input.angleDeg ?? 0),
    voidFraction: checkVoidFraction('voidFraction', input.voidFraction ?? 0),
    regime: null,
    offsetNm: airFormedFilmNm[metal] ?? 0,
    slopeNmPerV: STARTING_NM_PER_V[metal] ?? (low + high) / 2,
    curvatureNmPerV2: 0,
    lowestVoltageV: 0,
    highestVoltageV: publishedUpToV[metal] ?? 0,
    residualDeltaE: null,
    uncertainty: null,
  };
}
