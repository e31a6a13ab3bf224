import { describe, expect, it } from 'vitest';
import { type Changes, changedJob } from '../../reference/costing/changed-job.ts';
import { EXAMPLE_JOB, priceJob } from './index.ts';

const line = (key: string, changes: Changes) => {
  const found = priceJob(changedJob(changes)).lines.find((candidate) => candidate.key === key);
  if (!found) throw new Error(`no line ${key}`);
  return found;
};

describe('lines, by hand', () => {
  it.each<[string, string, Changes, number]>([
    [
      'two kinds of masked features: 240 × (2 × (40 s × 32/h + 0.12) + 1 × (90 s × 32/h + 0.5))',
      'masking',
      {
        part: {
          masks: [
            { count: 2, timeS: 40, materialCost: 0.12 },
            { count: 1, timeS: 90, materialCost: 0.5 },
          ],
        },
      },
      240 * (2 * (320 / 900 + 0.12) + (0.8 + 0.5)),
    ],
    [
      'warming the pieces: 240 × 0.021 kg × 523 J/(kg K) × 30 K = 79,077.6 J at 0.24 a kWh',
      'heating',
      { part: { heatCapacityJPerKgK: 523 }, process: { temperatureRiseK: 30 } },
      (79_077.6 / 3.6e6) * 0.24,
    ],
    ['heating power: 6 × 14 min × 5 kW = 7 kWh', 'heating', { process: { heatingKw: 5 } }, 7 * 0.24],
    [
      'the bare rack takes charge in every one of 7 loads: 0.14 m² × 3000 C/m² × 28 V / 0.8 besides the pieces',
      'dcEnergy',
      { rack: { bareAreaMm2: 20_000 }, process: { peakAPerM2: 225 } },
      (((1.008 + 7 * 0.02) * 3000 * 28) / (3.6e6 * 0.8)) * 0.24,
    ],
    [
      'electrical area draws the charge, wetted area drags out',
      'dcEnergy',
      { part: { electricalAreaMm2: 2100 }, limits: { maxCurrentA: 20 } },
      0.007056 / 2,
    ],
    ['drag-out keeps to the wetted area', 'dragOut', { part: { electricalAreaMm2: 2100 } }, 0.0169344],
    [
      'two baths are dragged out',
      'dragOut',
      {
        process: {
          chemicals: [
            {
              consumptionGPerM2: 0,
              pricePerKg: 3.5,
              dragOutLPerM2: 0.16,
              concentrationGPerL: 30,
              recoveryShare: 0,
            },
            {
              consumptionGPerM2: 0,
              pricePerKg: 2,
              dragOutLPerM2: 0.8,
              concentrationGPerL: 500,
              recoveryShare: 0.25,
            },
          ],
        },
      },
      0.0169344 + 1.008 * 0.8 * 0.5 * 0.75 * 2,
    ],
    [
      'rework that may fail again: 0.04 / 0.96 of what 0.04 was taken of',
      'reworkAllowance',
      { rates: { reworkMayFailAgain: true } },
      5.356491882666667 / 0.96,
    ],
  ])('%s', (...[, key, changes, amount]) => {
    expect(line(key, changes).amount).toBeCloseTo(amount, 12);
  });

  it('the energy price is on kWh from the mains: the losses of the supply are in it', () => {
    expect(priceJob(changedJob({ process: { rectifierEfficiency: 1 } })).consumption.dcKwh).toBeCloseTo(
      0.02352,
      12,
    );
    expect(priceJob(changedJob({ process: { rectifierEfficiency: 0.8 } })).consumption.dcKwh).toBeCloseTo(
      0.0294,
      12,
    );
  });

  it('opens a line to the figures of the job', () => {
    const { formula, inputs } = line('masking', {
      part: { masks: [{ label: 'boss', count: 2, timeS: 40, materialCost: 0.12 }] },
    });
    expect(formula).toContain('labour rate');
    expect(inputs.map(({ path, value, unit }) => [path, value, unit])).toEqual([
      ['quantity', 240, ''],
      ['rates.labourPerHour', 32, '¤/h'],
      ['part.masks[0].count', 2, ''],
      ['part.masks[0].timeS', 40, 's'],
      ['part.masks[0].materialCost', 0.12, '¤'],
    ]);
    for (const { inputs: figures } of priceJob(EXAMPLE_JOB).lines) {
      expect(figures.every(({ value }) => Number.isFinite(value))).toBe(true);
    }
  });
});

describe('from cost to price', () => {
  it('30 % margin is 42.857 % markup; 30 % markup is 23.077 % margin', () => {
    expect(priceJob(EXAMPLE_JOB).markupShare).toBeCloseTo(0.42857, 5);
    const marked = priceJob(changedJob({ rates: { marginShare: undefined, markupShare: 0.3 } }));
    expect(marked.marginShare).toBeCloseTo(0.23077, 5);
    expect(marked.priceBeforeMinimum).toBeCloseTo(marked.cost * 1.3, 10);
  });

  it('refuses margin and markup together, and neither', () => {
    expect(() => priceJob(changedJob({ rates: { markupShare: 0.3 } }))).toThrowError(
      /both margin and markup/,
    );
    expect(() => priceJob(changedJob({ rates: { marginShare: undefined } }))).toThrowError(
      /neither margin nor markup/,
    );
    expect(() => priceJob(changedJob({ rates: { marginShare: 1 } }))).toThrowError(/rates.marginShare is 1/);
  });

  it('overhead may be absorbed by hours of labour: 0.75 h + 240 × 42 s = 3.55 h', () => {
    const { consumption, overhead } = priceJob(
      changedJob({ rates: { overheadShare: undefined, overheadPerLabourHour: 10 } }),
    );
    expect(consumption.labourHours).toBeCloseTo(3.55, 12);
    expect(overhead).toBeCloseTo(35.5, 12);
    expect(
      priceJob(changedJob({ part: { masks: [{ count: 1, timeS: 15, materialCost: 0 }] } })).consumption
        .labourHours,
    ).toBeCloseTo(4.55, 12);
  });

  it('expedite comes on the minimum, tooling after everything', () => {
    const priced = priceJob(
      changedJob({
        quantity: 10,
        rates: { expediteShare: 0.25 },
        charges: {
          oneOffs: [
            { label: 'rack', amount: 400 },
            { label: 'salt spray test', amount: 95.5 },
          ],
        },
      }),
    );
    expect(priced).toMatchObject({
      minimumApplied: true,
      priceAfterMinimum: 120,
      priceTotal: 150,
      unitPrice: 15,
    });
    expect(priced).toMatchObject({ oneOffTotal: 495.5, priceWithOneOffs: 645.5 });
  });

  it('a price that equals the minimum is not raised by it', () => {
    const { priceBeforeMinimum } = priceJob(EXAMPLE_JOB);
    expect(priceJob(changedJob({ rates: { minimumLot: priceBeforeMinimum } })).minimumApplied).toBe(false);
  });
});

describe('refusals name the figure by its place in the job', () => {
  it.each<[string, Changes]>([
    ['rates.labourPerHour', { rates: { labourPerHour: -1 } }],
    ['rates.reworkShare', { rates: { reworkShare: 1 } }],
    ['process.rectifierEfficiency', { process: { rectifierEfficiency: 0 } }],
    ['labour.packS', { labour: { packS: Infinity } }],
    ['part.masks[0].count', { part: { masks: [{ count: 1.5, timeS: 1, materialCost: 0 }] } }],
    ['charges.oneOffs[0].amount', { charges: { oneOffs: [{ label: 'rack', amount: NaN }] } }],
    ['process.chemicals', { process: { chemicals: 'lye' as unknown as [] } }],
    ['rates.minimumLot', { rates: { minimumLot: undefined as unknown as number } }],
  ])('%s', (argument, changes) => {
    expect(() => priceJob(changedJob(changes))).toThrowError(expect.objectContaining({ argument }));
  });
});
