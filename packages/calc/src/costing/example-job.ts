import type { Job } from './job.ts';

/** 240 titanium fasteners in one colour; the shop and its numbers are invented. Used in examples and tests. */
export const EXAMPLE_JOB: Job = {
  quantity: 240,
  part: { areaMm2: 4200, massKg: 0.021, widthMm: 80, heightMm: 70 },
  rack: { hooks: 60, windowWidthMm: 900, windowHeightMm: 600, gapMm: 20, maxLoadKg: 8 },
  limits: { maxCurrentA: 40 },
  process: {
    peakAPerM2: 200,
    chargeCPerM2: 3000,
    averageVoltageV: 28,
    rectifierEfficiency: 0.8,
    cycleS: 840,
    heatingKw: 0,
    rinseLPerLoad: 60,
    chemicals: [
      {
        consumptionGPerM2: 5,
        pricePerKg: 3.5,
        dragOutLPerM2: 0.16,
        concentrationGPerL: 30,
        recoveryShare: 0,
      },
    ],
  },
  labour: { setupS: 2700, rackS: 18, unrackS: 8, inspectS: 10, packS: 6 },
  charges: { certificateCost: 18, packingCost: 7.5 },
  rates: {
    labourPerHour: 32,
    linePerHour: 46,
    energyPerKwh: 0.24,
    waterPerM3: 4.2,
    wastePerM3: 9.5,
    stripPerM2: 9,
    reworkShare: 0.04,
    overheadShare: 0.22,
    marginShare: 0.3,
    minimumLot: 120,
    expediteShare: 0,
  },
};
