import type { CompleteJob } from './check-job.ts';
import { type Consumption, total } from './consumption.ts';
import { derived, type Figure, figures } from './figure.ts';
import type { LoadPlan } from './pieces-per-load.ts';

export type CostLineKey =
  | 'setup'
  | 'rackUnrack'
  | 'masking'
  | 'lineTime'
  | 'dcEnergy'
  | 'heating'
  | 'chemicals'
  | 'dragOut'
  | 'rinseWater'
  | 'waste'
  | 'inspection'
  | 'packing'
  | 'reworkAllowance';

/** One amount with all it takes to follow it: the formula in words and every figure in it. */
export interface CostLine<Key extends string = CostLineKey> {
  key: Key;
  label: string;
  formula: string;
  inputs: Figure[];
  amount: number;
}

const M2_PER_MM2 = 1e-6;
const S_PER_H = 3600;

/** The direct cost of the lot, line by line. Nothing is rounded. */
export function costLines(job: CompleteJob, plan: LoadPlan, used: Consumption): CostLine[] {
  const { quantity, part, process, labour, charges, rates } = job;
  const perSecond = rates.labourPerHour / S_PER_H;
  const areaM2 = used.areaMm2 * M2_PER_MM2;
  const loads = derived('loads', plan.loads, '');
  const area = derived('wetted area of the lot', areaM2, 'm²');
  const each = process.chemicals.map((_, i) => `process.chemicals[${i}]` as const);

  const repeatable: CostLine[] = [
    {
      key: 'rackUnrack',
      label: 'Racking and unracking',
      formula: 'pieces × (racking + unracking) × labour rate',
      inputs: figures(job, 'quantity', 'labour.rackS', 'labour.unrackS', 'rates.labourPerHour'),
      amount: quantity * (labour.rackS + labour.unrackS) * perSecond,
    },
    {
      key: 'masking',
      label: 'Masking',
      formula: 'pieces × sum over the kinds of features × (time × labour rate + material)',
      inputs: [
        ...figures(job, 'quantity', 'rates.labourPerHour'),
        ...part.masks.flatMap((_, i) =>
          figures(job, `part.masks[${i}].count`, `part.masks[${i}].timeS`, `part.masks[${i}].materialCost`),
        ),
      ],
      amount:
        quantity * total(part.masks.map((mask) => mask.count * (mask.timeS * perSecond + mask.materialCost))),
    },
    {
      key: 'lineTime',
      label: 'Line time',
      formula: 'loads × line time of a load × line rate; a part load costs the line as much as a full one',
      inputs: [loads, ...figures(job, 'process.cycleS', 'rates.linePerHour')],
      amount: used.lineHours * rates.linePerHour,
    },
    {
      key: 'dcEnergy',
      label: 'Direct-current energy',
      formula:
        '(pieces × electrical area + loads × bare area of the rack) × charge × mean voltage / efficiency × price',
      inputs: [
        loads,
        ...figures(job, 'quantity', 'part.electricalAreaMm2', 'rack.bareAreaMm2', 'process.chargeCPerM2'),
        ...figures(job, 'process.averageVoltageV', 'process.rectifierEfficiency'),
        derived('energy from the mains', used.dcKwh, 'kWh'),
        ...figures(job, 'rates.energyPerKwh'),
      ],
      amount: used.dcKwh * rates.energyPerKwh,
    },
    {
      key: 'heating',
      label: 'Heating and cooling',
      formula:
        '(loads × line time × power + pieces × mass × heat capacity × temperature rise) × price of energy',
      inputs: [
        loads,
        ...figures(
          job,
          'process.cycleS',
          'process.heatingKw',
          'quantity',
          'part.massKg',
          'part.heatCapacityJPerKgK',
        ),
        ...figures(job, 'process.temperatureRiseK'),
        derived('energy', used.heatKwh, 'kWh'),
        ...figures(job, 'rates.energyPerKwh'),
      ],
      amount: used.heatKwh * rates.energyPerKwh,
    },
    {
      key: 'chemicals',
      label: 'Chemicals used up',
      formula: 'wetted area of the lot × sum over the baths of chemical used up × price',
      inputs: [
        area,
        ...each.flatMap((bath) => figures(job, `${bath}.consumptionGPerM2`, `${bath}.pricePerKg`)),
      ],
      amount: total(
        process.chemicals.map((bath) => ((areaM2 * bath.consumptionGPerM2) / 1000) * bath.pricePerKg),
      ),
    },
    {
      key: 'dragOut',
      label: 'Drag-out',
      formula:
        'wetted area of the lot × sum over the baths of drag-out × concentration × (1 - recovered) × price',
      inputs: [
        area,
        ...each.flatMap((bath) =>
          figures(
            job,
            `${bath}.dragOutLPerM2`,
            `${bath}.concentrationGPerL`,
            `${bath}.recoveryShare`,
            `${bath}.pricePerKg`,
          ),
        ),
      ],
      amount: total(
        process.chemicals.map(
          (bath) =>
            ((areaM2 * bath.dragOutLPerM2 * bath.concentrationGPerL) / 1000) *
            (1 - bath.recoveryShare) *
            bath.pricePerKg,
        ),
      ),
    },
    {
      key: 'rinseWater',
      label: 'Rinse water',
      formula: 'loads × rinse water of a load × price of water',
      inputs: [loads, ...figures(job, 'process.rinseLPerLoad', 'rates.waterPerM3')],
      amount: (used.waterL / 1000) * rates.waterPerM3,
    },
    {
      key: 'waste',
      label: 'Waste treatment',
      formula: 'loads × rinse water of a load × price of treatment',
      inputs: [loads, ...figures(job, 'process.rinseLPerLoad', 'rates.wastePerM3')],
      amount: (used.waterL / 1000) * rates.wastePerM3,
    },
  ];
  const repeated = total(repeatable.map(({ amount }) => amount));
  const reworked = rates.reworkMayFailAgain ? rates.reworkShare / (1 - rates.reworkShare) : rates.reworkShare;

  return [
    {
      key: 'setup',
      label: 'Set-up and first piece',
      formula: 'set-up time × labour rate, once a lot',
      inputs: figures(job, 'labour.setupS', 'rates.labourPerHour'),
      amount: labour.setupS * perSecond,
    },
    ...repeatable,
    {
      key: 'inspection',
      label: 'Inspection and certificate',
      formula: 'pieces × inspection time × labour rate + certificate',
      inputs: figures(job, 'quantity', 'labour.inspectS', 'rates.labourPerHour', 'charges.certificateCost'),
      amount: quantity * labour.inspectS * perSecond + charges.certificateCost,
    },
    {
      key: 'packing',
      label: 'Packing',
      formula: 'pieces × packing time × labour rate + packing material',
      inputs: figures(job, 'quantity', 'labour.packS', 'rates.labourPerHour', 'charges.packingCost'),
      amount: quantity * labour.packS * perSecond + charges.packingCost,
    },
    {
      key: 'reworkAllowance',
      label: 'Rework allowance',
      formula: rates.reworkMayFailAgain
        ? 'rework / (1 - rework) × (lines that are run again + wetted area × stripping)'
        : 'rework × (lines that are run again + wetted area × stripping)',
      inputs: [
        ...figures(job, 'rates.reworkShare'),
        derived('racking to waste treatment', repeated, '¤'),
        area,
        ...figures(job, 'rates.stripPerM2'),
      ],
      amount: reworked * (repeated + areaM2 * rates.stripPerM2),
    },
  ];
}
