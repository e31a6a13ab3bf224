import type { Job } from './job.ts';
import type { QuotedJob } from './quoted-job.ts';

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

/** The same lot as a line of a quotation brings it: route, rack, supply, rates and choices apart. */
export const EXAMPLE_QUOTED_JOB: QuotedJob = {
  quantity: 240,
  part: {
    areaMm2: 4200,
    electricalAreaMm2: 4200,
    massKg: 0.021,
    widthMm: 80,
    heightMm: 70,
    heatCapacityJPerKgK: 524,
  },
  steps: [
    {
      contents: 'alkaline-clean',
      durationS: 300,
      dripS: 10,
      settings: [{ quantity: 'temperatureC', target: 60 }],
      electrical: null,
    },
    { contents: 'water-rinse', durationS: 120, dripS: 10, settings: [], electrical: null },
    {
      contents: 'mild-salt',
      durationS: 180,
      dripS: 20,
      settings: [{ quantity: 'voltageV', target: 28 }],
      electrical: {
        peakCurrentDensityAPerM2: 200,
        steadyCurrentDensityAPerM2: 5,
        timeConstantS: 12,
        averageVoltageV: 28,
        chargeCPerM2: 3000,
      },
    },
    { contents: 'water-rinse', durationS: 180, dripS: 20, settings: [], electrical: null },
    { contents: null, durationS: 600, dripS: 0, settings: [], electrical: null },
  ],
  rack: EXAMPLE_JOB.rack,
  supply: { maxCurrentA: 40, efficiency: 0.8 },
  rates: {
    labourPerHour: 32,
    energyPerKwh: 0.24,
    waterPerM3: 4.2,
    wastePerM3: 9.5,
    overheadShare: 0.22,
    overheadPerLabourHour: 0,
    marginShare: 0.3,
    minimumLot: 120,
    expediteShare: 0.25,
    charges: { certificateCost: 18 },
  },
  familyRates: {
    linePerHour: 46,
    heatingKw: 0,
    rinseLPerLoad: 60,
    reworkShare: 0.04,
    stripPerM2: 9,
    chemical: {
      consumptionGPerM2: 5,
      pricePerKg: 3.5,
      dragOutLPerM2: 0.16,
      concentrationGPerL: 30,
      recoveryShare: 0,
    },
  },
  options: {
    maskingFeatures: 0,
    masking: { timeS: 0, materialCost: 0 },
    labour: EXAMPLE_JOB.labour,
    certificate: true,
    packingCost: 7.5,
    expedite: false,
    validatedPieces: null,
    oneOffs: [],
  },
};
