import type { CompleteLoad } from './check-job.ts';
import { type Figure, figures } from './figure.ts';

export type LoadLimitKey =
  'amps' | 'hooks' | 'window' | 'weight' | 'hoist' | 'bathArea' | 'cooling' | 'validated';

export interface LoadLimit {
  key: LoadLimitKey;
  label: string;
  /** Pieces this limit alone would allow. */
  pieces: number;
  formula: string;
  inputs: Figure[];
}

/** Every limit whose figures are known. */
export const limitsOf = (job: CompleteLoad): LoadLimit[] =>
  [currentLimit, hookLimit, windowLimit, weightLimit, hoistLimit, bathLimit, coolingLimit, provedLimit]
    .map((limit) => limit(job))
    .filter((limit) => limit !== null);

const M2_PER_MM2 = 1e-6;

/** Whole pieces in a ratio; the residue of binary division (2.9999999999999996) does not cost a piece. */
const whole = (ratio: number): number => Math.max(0, Math.floor(ratio * (1 + 1e-12)));

function currentLimit(job: CompleteLoad): LoadLimit | null {
  const { part, rack, limits, process } = job;
  if (limits.maxCurrentA === null || process.peakAPerM2 === 0) return null;
  const areaMm2 = limits.maxCurrentA / (process.peakAPerM2 * M2_PER_MM2) - rack.bareAreaMm2;
  return {
    key: 'amps',
    label: 'current',
    pieces: whole(areaMm2 / part.electricalAreaMm2),
    formula:
      '(current of the supply / peak current density - bare area of the rack) / electrical area of a piece',
    inputs: figures(
      job,
      'limits.maxCurrentA',
      'process.peakAPerM2',
      'rack.bareAreaMm2',
      'part.electricalAreaMm2',
    ),
  };
}

function hookLimit(job: CompleteLoad): LoadLimit | null {
  if (job.rack.hooks === null) return null;
  return {
    key: 'hooks',
    label: 'hooks',
    pieces: job.rack.hooks,
    formula: 'one piece on each hook',
    inputs: figures(job, 'rack.hooks'),
  };
}

function windowLimit(job: CompleteLoad): LoadLimit | null {
  const { windowWidthMm, windowHeightMm, gapMm, layers } = job.rack;
  const { widthMm, heightMm } = job.part;
  if (windowWidthMm === null || windowHeightMm === null || widthMm === null || heightMm === null) return null;
  const columns = whole((windowWidthMm + gapMm) / (widthMm + gapMm));
  const rows = whole((windowHeightMm + gapMm) / (heightMm + gapMm));
  return {
    key: 'window',
    label: 'rack window',
    pieces: columns * rows * layers,
    formula: 'columns × rows × layers; columns = (window + gap) / (piece + gap), rows likewise',
    inputs: figures(
      job,
      'rack.windowWidthMm',
      'rack.windowHeightMm',
      'part.widthMm',
      'part.heightMm',
      'rack.gapMm',
      'rack.layers',
    ),
  };
}

function weightLimit(job: CompleteLoad): LoadLimit | null {
  if (job.rack.maxLoadKg === null) return null;
  return {
    key: 'weight',
    label: 'load on the rack',
    pieces: whole(job.rack.maxLoadKg / job.part.massKg),
    formula: 'load the rack carries / mass of a piece',
    inputs: figures(job, 'rack.maxLoadKg', 'part.massKg'),
  };
}

function hoistLimit(job: CompleteLoad): LoadLimit | null {
  if (job.limits.hoistMaxKg === null) return null;
  return {
    key: 'hoist',
    label: 'load on the hoist',
    pieces: whole((job.limits.hoistMaxKg - job.rack.massKg) / job.part.massKg),
    formula: '(load the hoist lifts - mass of the rack) / mass of a piece',
    inputs: figures(job, 'limits.hoistMaxKg', 'rack.massKg', 'part.massKg'),
  };
}

function bathLimit(job: CompleteLoad): LoadLimit | null {
  const { bathVolumeL, maxAreaMm2PerL } = job.limits;
  if (bathVolumeL === null || maxAreaMm2PerL === null) return null;
  return {
    key: 'bathArea',
    label: 'area in the bath',
    pieces: whole((bathVolumeL * maxAreaMm2PerL) / job.part.areaMm2),
    formula: 'volume of the bath × area it takes per litre / wetted area of a piece',
    inputs: figures(job, 'limits.bathVolumeL', 'limits.maxAreaMm2PerL', 'part.areaMm2'),
  };
}

function coolingLimit(job: CompleteLoad): LoadLimit | null {
  const { part, rack, limits, process } = job;
  const wattsPerMm2 = process.peakAPerM2 * process.averageVoltageV * M2_PER_MM2;
  if (limits.coolingKw === null || wattsPerMm2 === 0) return null;
  const areaMm2 = (limits.coolingKw * 1000) / wattsPerMm2 - rack.bareAreaMm2;
  return {
    key: 'cooling',
    label: 'cooling of the bath',
    pieces: whole(areaMm2 / part.electricalAreaMm2),
    formula:
      '(cooling power / (peak current density × mean voltage) - bare area of the rack) / electrical area of a piece',
    inputs: figures(
      job,
      'limits.coolingKw',
      'process.peakAPerM2',
      'process.averageVoltageV',
      'rack.bareAreaMm2',
      'part.electricalAreaMm2',
    ),
  };
}

function provedLimit(job: CompleteLoad): LoadLimit | null {
  if (job.limits.validatedPieces === null) return null;
  return {
    key: 'validated',
    label: 'proved in one load',
    pieces: job.limits.validatedPieces,
    formula: 'the most pieces run in one load with even colour',
    inputs: figures(job, 'limits.validatedPieces'),
  };
}
