import { describe, expect, it } from 'vitest';
import { changedJob } from '../../reference/costing/changed-job.ts';
import { type CostLineKey, type Figure, type PricedJob, priceJob } from './index.ts';
import type { PriceStepKey } from './price-steps.ts';

/** Every figure counts: nothing is nought, one or equal to its neighbour. */
const job = changedJob({
  part: {
    electricalAreaMm2: 2100,
    heatCapacityJPerKgK: 523,
    masks: [
      { label: 'boss', count: 2, timeS: 40, materialCost: 0.12 },
      { label: 'thread', count: 3, timeS: 25, materialCost: 0.3 },
    ],
  },
  rack: { bareAreaMm2: 20_000 },
  process: {
    heatingKw: 5,
    temperatureRiseK: 30,
    chemicals: [
      {
        consumptionGPerM2: 5,
        pricePerKg: 3.5,
        dragOutLPerM2: 0.16,
        concentrationGPerL: 30,
        recoveryShare: 0.1,
      },
      {
        consumptionGPerM2: 7,
        pricePerKg: 2,
        dragOutLPerM2: 0.8,
        concentrationGPerL: 500,
        recoveryShare: 0.25,
      },
    ],
  },
});

/** Reads a line's own figures, by place in the job or by label, and refuses what the line does not show. */
function reader(inputs: readonly Figure[]) {
  return (name: string): number => {
    const found = inputs.find((figure) => (figure.path ?? figure.label) === name);
    if (!found) throw new Error(`the line does not show ${name}`);
    return found.value;
  };
}

/** Each formula worked out by hand from nothing but the figures that its line shows. */
const byHand: Record<CostLineKey, (at: (name: string) => number) => number> = {
  setup: (at) => (at('labour.setupS') / 3600) * at('rates.labourPerHour'),
  rackUnrack: (at) =>
    (at('quantity') * (at('labour.rackS') + at('labour.unrackS')) * at('rates.labourPerHour')) / 3600,
  masking: (at) => {
    const feature = (i: number): number =>
      at(`part.masks[${i}].count`) *
      ((at(`part.masks[${i}].timeS`) / 3600) * at('rates.labourPerHour') +
        at(`part.masks[${i}].materialCost`));
    return at('quantity') * (feature(0) + feature(1));
  },
  lineTime: (at) => ((at('loads') * at('process.cycleS')) / 3600) * at('rates.linePerHour'),
  dcEnergy: (at) => {
    const areaM2 =
      (at('quantity') * at('part.electricalAreaMm2') + at('loads') * at('rack.bareAreaMm2')) / 1e6;
    const joules = areaM2 * at('process.chargeCPerM2') * at('process.averageVoltageV');
    const kwh = joules / 3.6e6 / at('process.rectifierEfficiency');
    expect(at('energy from the mains')).toBeCloseTo(kwh, 12);
    return kwh * at('rates.energyPerKwh');
  },
  heating: (at) => {
    const kwh =
      ((at('loads') * at('process.cycleS')) / 3600) * at('process.heatingKw') +
      (at('quantity') * at('part.massKg') * at('part.heatCapacityJPerKgK') * at('process.temperatureRiseK')) /
        3.6e6;
    expect(at('energy')).toBeCloseTo(kwh, 12);
    return kwh * at('rates.energyPerKwh');
  },
  chemicals: (at) => {
    const bath = (i: number): number =>
      (at(`process.chemicals[${i}].consumptionGPerM2`) / 1000) * at(`process.chemicals[${i}].pricePerKg`);
    return at('wetted area of the lot') * (bath(0) + bath(1));
  },
  dragOut: (at) => {
    const bath = (i: number): number => {
      const of = (name: string): number => at(`process.chemicals[${i}].${name}`);
      const kgPerM2 = (of('dragOutLPerM2') * of('concentrationGPerL') * (1 - of('recoveryShare'))) / 1000;
      return kgPerM2 * of('pricePerKg');
    };
    return at('wetted area of the lot') * (bath(0) + bath(1));
  },
  rinseWater: (at) => (at('loads') * at('process.rinseLPerLoad') * at('rates.waterPerM3')) / 1000,
  waste: (at) => (at('loads') * at('process.rinseLPerLoad') * at('rates.wastePerM3')) / 1000,
  inspection: (at) =>
    (at('quantity') * at('labour.inspectS') * at('rates.labourPerHour')) / 3600 +
    at('charges.certificateCost'),
  packing: (at) =>
    (at('quantity') * at('labour.packS') * at('rates.labourPerHour')) / 3600 + at('charges.packingCost'),
  reworkAllowance: (at) =>
    at('rates.reworkShare') *
    (at('racking to waste treatment') + at('wetted area of the lot') * at('rates.stripPerM2')),
};

const lineOf = ({ lines }: PricedJob, key: CostLineKey) => {
  const found = lines.find((line) => line.key === key);
  if (!found) throw new Error(`no line ${key}`);
  return found;
};

describe('a line can be worked out from the figures it shows', () => {
  it.each(Object.keys(byHand) as CostLineKey[])('%s', (key) => {
    const { inputs, amount } = lineOf(priceJob(job), key);
    expect(amount).toBeGreaterThan(0);
    expect(byHand[key](reader(inputs))).toBeCloseTo(amount, 10);
  });

  it('all lines are worked out, and shown figures are numbers with a label', () => {
    const { lines } = priceJob(job);
    expect(lines.map(({ key }) => key).toSorted()).toEqual(Object.keys(byHand).toSorted());
    for (const { inputs } of lines) {
      expect(inputs.every(({ label, value }) => label !== '' && Number.isFinite(value))).toBe(true);
    }
  });

  it('the formula of the rework says whether a piece may fail again, and no other line changes', () => {
    const once = priceJob(job);
    const again = priceJob({ ...job, rates: { ...job.rates, reworkMayFailAgain: true } });
    expect(lineOf(once, 'reworkAllowance').formula).toMatch(/^rework × /);
    expect(lineOf(again, 'reworkAllowance').formula).toMatch(/^rework \/ \(1 - rework\) × /);
    const others = ({ lines }: PricedJob) => lines.filter(({ key }) => key !== 'reworkAllowance');
    expect(others(again)).toEqual(others(once));
  });
});

/** The same for what comes on top of the direct cost. */
const stepByHand: Record<PriceStepKey, (at: (name: string) => number) => number> = {
  overhead: (at) =>
    at('direct cost') * at('rates.overheadShare') + at('hours of labour') * at('rates.overheadPerLabourHour'),
  margin: (at) => at('cost') / (1 - at('rates.marginShare')) - at('cost'),
  minimum: (at) => Math.max(0, at('rates.minimumLot') - at('price')),
  expedite: (at) => at('price after the minimum') * at('rates.expediteShare'),
  rounding: (at) => Math.round(100 * at('before rounding')) / 100 - at('before rounding'),
};

describe('a step from cost to price can be worked out from the figures it shows', () => {
  const stepsOf = () =>
    priceJob({
      ...job,
      rates: { ...job.rates, minimumLot: 5000, overheadPerLabourHour: 3, expediteShare: 0.2 },
    }).steps;

  it.each(Object.keys(stepByHand) as PriceStepKey[])('%s', (key) => {
    const step = stepsOf().find((one) => one.key === key);
    if (!step) throw new Error(`no step ${key}`);
    expect(stepByHand[key](reader(step.inputs))).toBeCloseTo(step.amount, 9);
  });

  it('all steps are worked out', () => {
    expect(
      stepsOf()
        .map(({ key }) => key)
        .toSorted(),
    ).toEqual(Object.keys(stepByHand).toSorted());
  });
});

it('tells the chemicals that a lot takes and carries out, over all baths', () => {
  const { areaMm2, chemicalKg, dragOutL } = priceJob(job).consumption;
  // Two baths: 5 and 7 g, 0.16 and 0.8 L on every square metre.
  expect(chemicalKg).toBeCloseTo((areaMm2 * 1e-6 * (5 + 7)) / 1000, 12);
  expect(dragOutL).toBeCloseTo(areaMm2 * 1e-6 * (0.16 + 0.8), 12);
});
