import { checkName, checkNumber, checkWhole } from '../check.ts';
import { bisect } from '../numeric/root.ts';

/** 1 + R + ... + R^n */
const counterflow = (ratio: number, stages: number): number => {
  let sum = 1;
  for (let stage = 0; stage < stages; stage += 1) sum = sum * ratio + 1;
  return sum;
};

const checkStages = (value: number): number => checkWhole('stages', value, { min: 1, max: 20 });

/**
 * Rinse water that a counterflow cascade needs for a wanted dilution, per litre of drag-out. It is a ratio of
 * flows: with the drag-out of this job in L/h it becomes the flow. `powerRule` is the approximation
 * dilution^(1/stages), good for large ratios.
 *
 * Valid for 1 to 20 stages and a dilution (first over last concentration) from 1 to 1e9; steady state, perfect
 * mixing.
 * Source: mass balance, C0/Cn = 1 + R + R^2 + ... + R^n.
 * Errors: `out-of-range` or `not-finite`.
 *
 * @example
 * counterflowRinse({ stages: 3, dilution: 1060, dragOutLPerH: 1.44 })
 * // { waterPerDragOut: 9.83862, powerRule: 10.1961, flowLPerH: 14.1676 }
 */
export function counterflowRinse(input: { stages: number; dilution: number; dragOutLPerH?: number }): {
  waterPerDragOut: number;
  powerRule: number;
  flowLPerH: number | null;
} {
  const stages = checkStages(input.stages);
  const dilution = checkNumber('dilution', input.dilution, { min: 1, max: 1e9 });
  const dragOut =
    input.dragOutLPerH === undefined ? null : checkNumber('dragOutLPerH', input.dragOutLPerH, { min: 0 });
  const powerRule = dilution ** (1 / stages);
  const waterPerDragOut = bisect({
    f: (ratio) => counterflow(ratio, stages) - dilution,
    low: 0,
    high: powerRule,
  });
  return { waterPerDragOut, powerRule, flowLPerH: dragOut === null ? null : waterPerDragOut * dragOut };
}

/**
 * Dilution, first over last concentration, that rinses reach: `counterflow` with the whole water through every stage,
 * `separate` with an equal share of it to each.
 *
 * Valid for 1 to 20 stages and a ratio of water to drag-out from 0 to 1e9; steady state, perfect mixing.
 * Source: mass balance, 1 + R + ... + R^n and (1 + R/n)^n.
 * Errors: `out-of-range` or `not-finite`.
 *
 * @example
 * rinseDilution({ stages: 1, waterPerDragOut: 2000, arrangement: 'counterflow' }) // 2001
 */
export function rinseDilution(input: {
  stages: number;
  waterPerDragOut: number;
  arrangement: 'counterflow' | 'separate';
}): number {
  const stages = checkStages(input.stages);
  const ratio = checkNumber('waterPerDragOut', input.waterPerDragOut, { min: 0, max: 1e9 });
  const arrangement = checkName('arrangement', input.arrangement, ['counterflow', 'separate']);
  return arrangement === 'separate' ? (1 + ratio / stages) ** stages : counterflow(ratio, stages);
}

/**
 * Concentration in a still rinse, as a share of the bath's, after so many racks since it was last changed.
 *
 * Valid for racks from 0, positive volume, drag-out per rack up to the volume; perfect mixing.
 * Source: mass balance, C/C0 = 1 - exp(-N d/V).
 * Errors: `out-of-range` or `not-finite`.
 *
 * @example
 * stillRinse({ racks: 50, dragOutLPerRack: 0.4, volumeL: 200 }) // 0.0951626
 */
export function stillRinse(input: { racks: number; dragOutLPerRack: number; volumeL: number }): number {
  const racks = checkNumber('racks', input.racks, { min: 0 });
  const volumeL = checkNumber('volumeL', input.volumeL, { above: 0 });
  const dragOut = checkNumber('dragOutLPerRack', input.dragOutLPerRack, { min: 0, max: volumeL });
  return -Math.expm1((-racks * dragOut) / volumeL);
}
