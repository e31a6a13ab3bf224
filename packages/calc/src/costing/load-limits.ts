import type { CompleteLoad } from './check-job.ts';
import type { InputPath } from './job-inputs.ts';

export type LoadLimitKey =
  'amps' | 'hooks' | 'window' | 'weight' | 'hoist' | 'bathArea' | 'cooling' | 'validated';

interface LimitRule {
  key: LoadLimitKey;
  label: string;
  formula: string;
  /** The figures in the formula. */
  paths: readonly InputPath[];
  /** Pieces this limit alone would allow; null when its figures are not known or it does not apply. */
  pieces: (job: CompleteLoad) => number | null;
}

const M2_PER_MM2 = 1e-6;

/** Whole pieces in a ratio; the residue of binary division (2.9999999999999996) does not cost a piece. */
const whole = (ratio: number): number => Math.max(0, Math.floor(ratio * (1 + 1e-12)));

/** Everything that can bound a load. */
export const LIMIT_RULES: readonly LimitRule[] = [
  {
    key: 'amps',
    label: 'current',
    formula:
      '(current of the supply / peak current density - bare area of the rack) / electrical area of a piece',
    paths: ['limits.maxCurrentA', 'process.peakAPerM2', 'rack.bareAreaMm2', 'part.electricalAreaMm2'],
    pieces: ({ part, rack, limits: { maxCurrentA }, process: { peakAPerM2 } }) =>
      maxCurrentA === null || peakAPerM2 === 0
        ? null
        : whole((maxCurrentA / (peakAPerM2 * M2_PER_MM2) - rack.bareAreaMm2) / part.electricalAreaMm2),
  },
  {
    key: 'hooks',
    label: 'hooks',
    formula: 'one piece on each hook',
    paths: ['rack.hooks'],
    pieces: ({ rack }) => rack.hooks,
  },
  {
    key: 'window',
    label: 'rack window',
    formula: 'columns × rows × layers; columns = (window + gap) / (piece + gap), rows likewise',
    paths: [
      'rack.windowWidthMm',
      'rack.windowHeightMm',
      'part.widthMm',
      'part.heightMm',
      'rack.gapMm',
      'rack.layers',
    ],
    pieces: ({ part: { widthMm, heightMm }, rack: { windowWidthMm, windowHeightMm, gapMm, layers } }) => {
      if (windowWidthMm === null || windowHeightMm === null || widthMm === null || heightMm === null)
        return null;
      const columns = whole((windowWidthMm + gapMm) / (widthMm + gapMm));
      const rows = whole((windowHeightMm + gapMm) / (heightMm + gapMm));
      return columns * rows * layers;
    },
  },
  {
    key: 'weight',
    label: 'load on the rack',
    formula: 'load the rack carries / mass of a piece',
    paths: ['rack.maxLoadKg', 'part.massKg'],
    pieces: ({ part, rack: { maxLoadKg } }) => (maxLoadKg === null ? null : whole(maxLoadKg / part.massKg)),
  },
  {
    key: 'hoist',
    label: 'load on the hoist',
    formula: '(load the hoist lifts - mass of the rack) / mass of a piece',
    paths: ['limits.hoistMaxKg', 'rack.massKg', 'part.massKg'],
    pieces: ({ part, rack, limits: { hoistMaxKg } }) =>
      hoistMaxKg === null ? null : whole((hoistMaxKg - rack.massKg) / part.massKg),
  },
  {
    key: 'bathArea',
    label: 'area in the bath',
    formula: 'volume of the bath × area it takes per litre / wetted area of a piece',
    paths: ['limits.bathVolumeL', 'limits.maxAreaMm2PerL', 'part.areaMm2'],
    pieces: ({ part, limits: { bathVolumeL, maxAreaMm2PerL } }) =>
      bathVolumeL === null || maxAreaMm2PerL === null
        ? null
        : whole((bathVolumeL * maxAreaMm2PerL) / part.areaMm2),
  },
  {
    key: 'cooling',
    label: 'cooling of the bath',
    formula:
      '(cooling power / (peak current density × mean voltage) - bare area of the rack) / electrical area of a piece',
    paths: [
      'limits.coolingKw',
      'process.peakAPerM2',
      'process.averageVoltageV',
      'rack.bareAreaMm2',
      'part.electricalAreaMm2',
    ],
    pieces: ({ part, rack, limits: { coolingKw }, process: { peakAPerM2, averageVoltageV } }) => {
      const wattsPerMm2 = peakAPerM2 * averageVoltageV * M2_PER_MM2;
      if (coolingKw === null || wattsPerMm2 === 0) return null;
      return whole(((coolingKw * 1000) / wattsPerMm2 - rack.bareAreaMm2) / part.electricalAreaMm2);
    },
  },
  {
    key: 'validated',
    label: 'proved in one load',
    formula: 'the most pieces run in one load with even colour',
    paths: ['limits.validatedPieces'],
    pieces: ({ limits }) => limits.validatedPieces,
  },
];
