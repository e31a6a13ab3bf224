import type { CompleteJob } from './check-job.ts';
import type { Consumption } from './consumption.ts';
import { type CostLineKey, repeatedCost } from './cost-amounts.ts';
import { derived, type Figure, figures } from './figure.ts';

/** One amount with all it takes to follow it: the formula in words and every figure in it. */
export interface CostLine<Key extends string = CostLineKey> {
  key: Key;
  label: string;
  formula: string;
  inputs: Figure[];
  amount: number;
}

/** A priced job, as far as the explanation needs it. */
export interface Priced {
  job: CompleteJob;
  loads: number;
  consumption: Consumption;
  amounts: Record<CostLineKey, number>;
}

interface LineWords {
  key: CostLineKey;
  label: string;
  formula: string;
  inputs: (priced: Priced) => Figure[];
}

const loadCount = ({ loads }: Priced): Figure => derived('loads', loads, '');
const lotArea = ({ consumption }: Priced): Figure =>
  derived('wetted area of the lot', consumption.areaMm2 * 1e-6, 'm²');

const LINES: readonly LineWords[] = [
  {
    key: 'setup',
    label: 'Set-up and first piece',
    formula: 'set-up time × labour rate, once a lot',
    inputs: ({ job }) => figures(job, 'labour.setupS', 'rates.labourPerHour'),
  },
  {
    key: 'rackUnrack',
    label: 'Racking and unracking',
    formula: 'pieces × (racking + unracking) × labour rate',
    inputs: ({ job }) => figures(job, 'quantity', 'labour.rackS', 'labour.unrackS', 'rates.labourPerHour'),
  },
  {
    key: 'masking',
    label: 'Masking',
    formula: 'pieces × sum over the kinds of features: features × (time × labour rate + material)',
    inputs: ({ job }) => [
      ...figures(job, 'quantity', 'rates.labourPerHour'),
      ...job.part.masks.flatMap((_, i) =>
        figures(job, `part.masks[${i}].count`, `part.masks[${i}].timeS`, `part.masks[${i}].materialCost`),
      ),
    ],
  },
  {
    key: 'lineTime',
    label: 'Line time',
    formula: 'loads × line time of a load × line rate; a part load takes the line as long as a full one',
    inputs: (priced) => [loadCount(priced), ...figures(priced.job, 'process.cycleS', 'rates.linePerHour')],
  },
  {
    key: 'dcEnergy',
    label: 'Direct-current energy',
    formula:
      '(pieces × electrical area + loads × bare area of the rack) × charge per area × mean voltage / efficiency × price of energy',
    inputs: (priced) => [
      ...figures(priced.job, 'quantity', 'part.electricalAreaMm2'),
      loadCount(priced),
      ...figures(priced.job, 'rack.bareAreaMm2', 'process.chargeCPerM2', 'process.averageVoltageV'),
      ...figures(priced.job, 'process.rectifierEfficiency'),
      derived('energy from the mains', priced.consumption.dcKwh, 'kWh'),
      ...figures(priced.job, 'rates.energyPerKwh'),
    ],
  },
  {
    key: 'heating',
    label: 'Heating and cooling',
    formula:
      '(loads × line time × power + pieces × mass × heat capacity × temperature rise) × price of energy',
    inputs: (priced) => [
      loadCount(priced),
      ...figures(priced.job, 'process.cycleS', 'process.heatingKw', 'quantity', 'part.massKg'),
      ...figures(priced.job, 'part.heatCapacityJPerKgK', 'process.temperatureRiseK'),
      derived('energy', priced.consumption.heatKwh, 'kWh'),
      ...figures(priced.job, 'rates.energyPerKwh'),
    ],
  },
  {
    key: 'chemicals',
    label: 'Chemicals used up',
    formula: 'wetted area of the lot × sum over the baths: chemical used up × price',
    inputs: (priced) => [
      lotArea(priced),
      ...eachBath(priced.job, (bath) => [`${bath}.consumptionGPerM2`, `${bath}.pricePerKg`]),
    ],
  },
  {
    key: 'dragOut',
    label: 'Drag-out',
    formula:
      'wetted area of the lot × sum over the baths: drag-out × concentration × (1 - recovered) × price',
    inputs: (priced) => [
      lotArea(priced),
      ...eachBath(priced.job, (bath) => [
        `${bath}.dragOutLPerM2`,
        `${bath}.concentrationGPerL`,
        `${bath}.recoveryShare`,
        `${bath}.pricePerKg`,
      ]),
    ],
  },
  {
    key: 'rinseWater',
    label: 'Rinse water',
    formula: 'loads × rinse water of a load × price of water',
    inputs: (priced) => [
      loadCount(priced),
      ...figures(priced.job, 'process.rinseLPerLoad', 'rates.waterPerM3'),
    ],
  },
  {
    key: 'waste',
    label: 'Waste treatment',
    formula: 'loads × rinse water of a load × price of waste treatment',
    inputs: (priced) => [
      loadCount(priced),
      ...figures(priced.job, 'process.rinseLPerLoad', 'rates.wastePerM3'),
    ],
  },
  {
    key: 'inspection',
    label: 'Inspection and certificate',
    formula: 'pieces × inspection time × labour rate + certificate',
    inputs: ({ job }) =>
      figures(job, 'quantity', 'labour.inspectS', 'rates.labourPerHour', 'charges.certificateCost'),
  },
  {
    key: 'packing',
    label: 'Packing',
    formula: 'pieces × packing time × labour rate + packing material',
    inputs: ({ job }) =>
      figures(job, 'quantity', 'labour.packS', 'rates.labourPerHour', 'charges.packingCost'),
  },
  {
    key: 'reworkAllowance',
    label: 'Rework allowance',
    formula: 'rework × (racking to waste treatment + wetted area of the lot × stripping)',
    inputs: (priced) => [
      ...figures(priced.job, 'rates.reworkShare'),
      derived('racking to waste treatment', repeatedCost(priced.amounts), '¤'),
      lotArea(priced),
      ...figures(priced.job, 'rates.stripPerM2'),
    ],
  },
];

const FAILING_AGAIN =
  'rework / (1 - rework) × (racking to waste treatment + wetted area of the lot × stripping)';

/** The direct cost with its words and figures, in the order of the work. */
export const costLines = (priced: Priced): CostLine[] =>
  LINES.map(({ key, label, formula, inputs }) => ({
    key,
    label,
    formula: key === 'reworkAllowance' && priced.job.rates.reworkMayFailAgain ? FAILING_AGAIN : formula,
    inputs: inputs(priced),
    amount: priced.amounts[key],
  }));

type BathPath = `process.chemicals[${number}]`;

const eachBath = (job: CompleteJob, paths: (bath: BathPath) => `${BathPath}.${string}`[]): Figure[] =>
  job.process.chemicals.flatMap((_, i) => figures(job, ...paths(`process.chemicals[${i}]`)));
