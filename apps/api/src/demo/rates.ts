import type { Rates } from '@huelot/contracts';

/** The rates of the invented shop: made up, and plausible. */
export const rates: Rates = {
  labourPerHour: 34,
  energyPerKwh: 0.26,
  waterPerM3: 4.4,
  wastePerM3: 10.5,
  overheadShare: 0.22,
  overheadPerLabourHour: 0,
  marginShare: 0.3,
  minimumLot: 120,
  expediteShare: 0.25,
  labour: { setupS: 2700, rackS: 18, unrackS: 8, inspectS: 10, packS: 6 },
  masking: { timeS: 40, materialCost: 0.12 },
  charges: { certificateCost: 18, packingCost: 7.5 },
  quantityBreaks: [48, 120, 480],
  families: {
    'interference-colour': {
      linePerHour: 48,
      heatingKw: 2,
      rinseLPerLoad: 60,
      reworkShare: 0.04,
      stripPerM2: 9,
      chemical: {
        consumptionGPerM2: 5,
        pricePerKg: 7.4,
        dragOutLPerM2: 0.16,
        concentrationGPerL: 30,
        recoveryShare: 0,
      },
    },
    'caustic-colour': {
      linePerHour: 54,
      heatingKw: 9,
      rinseLPerLoad: 120,
      reworkShare: 0.05,
      stripPerM2: 5,
      chemical: {
        consumptionGPerM2: 120,
        pricePerKg: 2.8,
        dragOutLPerM2: 0.25,
        concentrationGPerL: 740,
        recoveryShare: 0.4,
      },
    },
    'dyed-anodize': {
      linePerHour: 88,
      heatingKw: 14,
      rinseLPerLoad: 350,
      reworkShare: 0.06,
      stripPerM2: 14,
      chemical: {
        consumptionGPerM2: 90,
        pricePerKg: 0.8,
        dragOutLPerM2: 0.16,
        concentrationGPerL: 180,
        recoveryShare: 0.25,
      },
    },
  },
};
