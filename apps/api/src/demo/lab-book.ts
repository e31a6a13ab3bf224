import type { BathComponent, NewBathSetup, NewChemical } from '@huelot/contracts';

/* How the invented shop watches its baths, and what stands on its shelf: every figure is made up, and plausible. */

const chemical = (code: string, name: string, options: Partial<NewChemical>): NewChemical => ({
  code,
  name,
  formula: '',
  solute: null,
  form: 'solid',
  assayMassFraction: 1,
  impurityMassFraction: 0,
  densityKgPerM3: null,
  hazards: [],
  supplier: 'Vale Chemicals',
  reorderPointKg: null,
  pricePerKg: null,
  sdsFileId: null,
  notes: '',
  ...options,
});
/** What is bought, with how much of it came in before the story and in its middle. */
export const shelf = {
  flake: {
    facts: chemical('KOH-90', 'Potassium hydroxide flake', {
      formula: 'KOH',
      solute: 'KOH',
      assayMassFraction: 0.9,
      impurityMassFraction: 0.005,
      hazards: ['corrosive'],
      reorderPointKg: 40,
      pricePerKg: '2.40',
    }),
    receipts: [
      { supplierLot: 'VK-2291', quantityKg: 75, pricePerKg: '2.40' },
      { supplierLot: 'VK-2318', quantityKg: 50, pricePerKg: '2.85' },
    ],
  },
  acid: {
    facts: chemical('SA-96', 'Sulfuric acid 96 %', {
      formula: 'H2SO4',
      solute: 'H2SO4',
      form: 'liquid',
      assayMassFraction: 0.96,
      densityKgPerM3: 1835,
      hazards: ['corrosive'],
      reorderPointKg: 40,
      pricePerKg: '0.62',
    }),
    receipts: [{ supplierLot: '71-0448', quantityKg: 90, pricePerKg: '0.68' }],
  },
  phosphate: {
    facts: chemical('TSP-12', 'Trisodium phosphate dodecahydrate', {
      formula: 'Na3PO4·12H2O',
      solute: 'Na3PO4',
      assayMassFraction: 0.42,
      hazards: ['dust'],
      reorderPointKg: 1,
      pricePerKg: '3.10',
    }),
    receipts: [{ supplierLot: 'P-3305', quantityKg: 5 }],
  },
  dye: {
    facts: chemical('DYE-R', 'Red dye', {
      hazards: ['sensitising', 'dust'],
      reorderPointKg: 3,
      pricePerKg: '48.00',
    }),
    receipts: [{ supplierLot: 'R-118', quantityKg: 2.4 }],
  },
} as const;

const component = (
  key: string,
  name: string,
  options: Pick<BathComponent, 'unit'> & Partial<BathComponent>,
): BathComponent => ({
  key,
  name,
  referenceTemperatureC: options.unit === 'gramsPerLitre' ? 20 : null,
  target: null,
  low: null,
  high: null,
  stopLow: null,
  stopHigh: null,
  ...options,
});
const setup = (
  options: Partial<NewBathSetup> & Pick<NewBathSetup, 'components' | 'fullVolumeL'>,
): NewBathSetup => ({
  solute: null,
  freeboardL: 20,
  workingTemperatureC: 20,
  coldestTemperatureC: null,
  impurity: null,
  dragOutLPerM2: 0.16,
  plans: [],
  reason: 'as the shop has always watched it',
  ...options,
});
const every = (days: number, ...components: string[]): NewBathSetup['plans'][number] => ({
  key: components[0] ?? '',
  components,
  methodId: null,
  everyDays: days,
  everyLoads: null,
  everyAreaM2: null,
  everyAmpereHours: null,
});

/** By the code of the tank. */
export const setups = {
  T1: setup({
    fullVolumeL: 300,
    workingTemperatureC: 60,
    // Not by pH: above 12 a glass electrode reads sodium for hydrogen, and says little of how much cleaner is left.
    components: [
      component('conductivity', 'conductivity', {
        unit: 'siemensPerM',
        target: 6.5,
        low: 5.2,
        high: 8,
        stopLow: 4,
      }),
    ],
    plans: [every(14, 'conductivity')],
  }),
  T4: setup({
    solute: 'Na3PO4',
    fullVolumeL: 120,
    freeboardL: 12,
    components: [
      component('Na3PO4', 'trisodium phosphate', {
        unit: 'gramsPerLitre',
        target: 30,
        low: 27,
        high: 34,
        stopLow: 22,
        stopHigh: 40,
      }),
    ],
    plans: [every(14, 'Na3PO4')],
  }),
  T5: setup({
    fullVolumeL: 300,
    components: [
      component('conductivity', 'conductivity', {
        unit: 'siemensPerM',
        target: 0.003,
        high: 0.02,
        stopHigh: 0.06,
      }),
    ],
    plans: [every(14, 'conductivity')],
  }),
  T6: setup({
    solute: 'KOH',
    fullVolumeL: 200,
    workingTemperatureC: 60,
    coldestTemperatureC: 18,
    dragOutLPerM2: 0.25,
    impurity: { component: 'K2CO3', aimGramsPerLitre: 45 },
    components: [
      component('KOH', 'potassium hydroxide', {
        unit: 'massFraction',
        target: 0.5,
        low: 0.48,
        high: 0.52,
        stopLow: 0.455,
        stopHigh: 0.54,
      }),
      component('K2CO3', 'carbonate', { unit: 'gramsPerLitre', high: 60, stopHigh: 80 }),
    ],
    plans: [every(14, 'KOH', 'K2CO3')],
  }),
  T11: setup({
    solute: 'H2SO4',
    fullVolumeL: 300,
    freeboardL: 30,
    impurity: { component: 'Al', aimGramsPerLitre: 9 },
    components: [
      component('H2SO4', 'free sulfuric acid', {
        unit: 'gramsPerLitre',
        target: 180,
        low: 170,
        high: 195,
        stopLow: 155,
        stopHigh: 210,
      }),
      component('Al', 'aluminium', { unit: 'gramsPerLitre', low: 2, high: 12, stopHigh: 16 }),
    ],
    plans: [every(14, 'H2SO4', 'Al')],
  }),
  T12: setup({
    fullVolumeL: 300,
    workingTemperatureC: 55,
    components: [
      component('pH', 'pH', { unit: 'pH', target: 5.5, low: 5, high: 6, stopLow: 4.5, stopHigh: 6.8 }),
    ],
    plans: [every(14, 'pH')],
  }),
  T13: setup({
    fullVolumeL: 300,
    workingTemperatureC: 95,
    components: [
      component('pH', 'pH', { unit: 'pH', target: 5.9, low: 5.5, high: 6.3, stopLow: 5, stopHigh: 7 }),
    ],
    plans: [every(14, 'pH')],
  }),
} satisfies Record<string, NewBathSetup>;
export type WatchedTank = keyof typeof setups;
