import type { Rates } from '@huelot/contracts';

/** How the card says what it is; the set-up asks for it to be replaced while this stands on it. */
export const exampleRatesNote = 'Examples from the starter set, to be replaced: no figure is of this shop';

/** Figures to see a price with. They are made up: nobody should send a price that rests on them. */
export const exampleRates: Rates = {
  labourPerHour: 40,
  energyPerKwh: 0.25,
  waterPerM3: 4,
  wastePerM3: 10,
  overheadShare: 0.2,
  overheadPerLabourHour: 0,
  marginShare: 0.3,
  minimumLot: 100,
  expediteShare: 0.25,
  labour: { setupS: 1800, rackS: 20, unrackS: 10, inspectS: 10, packS: 8 },
  masking: { timeS: 45, materialCost: 0.15 },
  charges: { certificateCost: 20, packingCost: 8 },
  quantityBreaks: [10, 50, 200],
  families: {
    'interference-colour': {
      ...{ linePerHour: 45, heatingKw: 2, rinseLPerLoad: 40, reworkShare: 0.05, stripPerM2: 10 },
      chemical: {
        consumptionGPerM2: 5,
        pricePerKg: 7,
        dragOutLPerM2: 0.15,
        concentrationGPerL: 30,
        recoveryShare: 0,
      },
    },
    'caustic-colour': {
      ...{ linePerHour: 50, heatingKw: 5, rinseLPerLoad: 80, reworkShare: 0.05, stripPerM2: 6 },
      chemical: {
        consumptionGPerM2: 120,
        pricePerKg: 3,
        dragOutLPerM2: 0.25,
        concentrationGPerL: 740,
        recoveryShare: 0,
      },
    },
    'dyed-anodize': {
      ...{ linePerHour: 70, heatingKw: 8, rinseLPerLoad: 200, reworkShare: 0.05, stripPerM2: 12 },
      chemical: {
        consumptionGPerM2: 90,
        pricePerKg: 1,
        dragOutLPerM2: 0.15,
        concentrationGPerL: 180,
        recoveryShare: 0,
      },
    },
  },
};
