import type { CompleteJob } from './check-job.ts';

/** What the lot takes of the shop. */
export interface Consumption {
  /** Wetted area of the lot. */
  areaMm2: number;
  labourHours: number;
  lineHours: number;
  dcKwh: number;
  heatKwh: number;
  chemicalKg: number;
  dragOutL: number;
  waterL: number;
}

const M2_PER_MM2 = 1e-6;
const S_PER_H = 3600;
const J_PER_KWH = 3.6e6;

/** Energy is on the mains side: the supply's losses are in it. */
export function consumptionOf(job: CompleteJob, loads: number): Consumption {
  const { quantity, part, rack, process, labour } = job;
  const areaMm2 = quantity * part.areaMm2;
  const areaM2 = areaMm2 * M2_PER_MM2;
  const lineHours = (loads * process.cycleS) / S_PER_H;
  const maskS = total(part.masks.map((mask) => mask.count * mask.timeS));
  const pieceS = labour.rackS + labour.unrackS + maskS + labour.inspectS + labour.packS;
  const anodeM2 = (quantity * part.electricalAreaMm2 + loads * rack.bareAreaMm2) * M2_PER_MM2;
  const partsHeatJ = quantity * part.massKg * part.heatCapacityJPerKgK * process.temperatureRiseK;
  return {
    areaMm2,
    labourHours: (labour.setupS + quantity * pieceS) / S_PER_H,
    lineHours,
    dcKwh:
      (anodeM2 * process.chargeCPerM2 * process.averageVoltageV) / (J_PER_KWH * process.rectifierEfficiency),
    heatKwh: lineHours * process.heatingKw + partsHeatJ / J_PER_KWH,
    chemicalKg: total(process.chemicals.map((bath) => (areaM2 * bath.consumptionGPerM2) / 1000)),
    dragOutL: total(process.chemicals.map((bath) => areaM2 * bath.dragOutLPerM2)),
    waterL: loads * process.rinseLPerLoad,
  };
}

export const total = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0);
