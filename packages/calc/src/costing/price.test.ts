import { describe, expect, it } from 'vitest';
import { EXAMPLE_JOB, type Job, priceJob, priceQuantities, sensitivity } from './index.ts';
import { roundHalfAway } from './money.ts';

type Changes = { [K in keyof Job]?: Job[K] extends object ? Partial<Job[K]> : Job[K] };

const job = (changes: Changes): Job => ({
  quantity: changes.quantity ?? EXAMPLE_JOB.quantity,
  part: { ...EXAMPLE_JOB.part, ...changes.part },
  rack: { ...EXAMPLE_JOB.rack, ...changes.rack },
  limits: { ...EXAMPLE_JOB.limits, ...changes.limits },
  process: { ...EXAMPLE_JOB.process, ...changes.process },
  labour: { ...EXAMPLE_JOB.labour, ...changes.labour },
  charges: { ...EXAMPLE_JOB.charges, ...changes.charges },
  rates: { ...EXAMPLE_JOB.rates, ...changes.rates },
});

const line = (key: string, changes: Changes) => {
  const found = priceJob(job(changes)).lines.find((candidate) => candidate.key === key);
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
    expect(priceJob(job({ process: { rectifierEfficiency: 1 } })).consumption.dcKwh).toBeCloseTo(0.02352, 12);
    expect(priceJob(job({ process: { rectifierEfficiency: 0.8 } })).consumption.dcKwh).toBeCloseTo(
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
    const marked = priceJob(job({ rates: { marginShare: undefined, markupShare: 0.3 } }));
    expect(marked.marginShare).toBeCloseTo(0.23077, 5);
    expect(marked.priceBeforeMinimum).toBeCloseTo(marked.cost * 1.3, 10);
  });

  it('refuses margin and markup together, and neither', () => {
    expect(() => priceJob(job({ rates: { markupShare: 0.3 } }))).toThrowError(/both margin and markup/);
    expect(() => priceJob(job({ rates: { marginShare: undefined } }))).toThrowError(
      /neither margin nor markup/,
    );
    expect(() => priceJob(job({ rates: { marginShare: 1 } }))).toThrowError(/rates.marginShare is 1/);
  });

  it('overhead may be absorbed by hours of labour: 0.75 h + 240 × 42 s = 3.55 h', () => {
    const { consumption, overhead } = priceJob(
      job({ rates: { overheadShare: undefined, overheadPerLabourHour: 10 } }),
    );
    expect(consumption.labourHours).toBeCloseTo(3.55, 12);
    expect(overhead).toBeCloseTo(35.5, 12);
    expect(
      priceJob(job({ part: { masks: [{ count: 1, timeS: 15, materialCost: 0 }] } })).consumption.labourHours,
    ).toBeCloseTo(4.55, 12);
  });

  it('expedite comes on the minimum, tooling after everything', () => {
    const priced = priceJob(
      job({
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
    expect(priceJob(job({ rates: { minimumLot: priceBeforeMinimum } })).minimumApplied).toBe(false);
  });
});

describe('rounding half away from zero', () => {
  it.each([
    [1.005, 2, 1.01],
    [2.675, 2, 2.68],
    [-1.005, 2, -1.01],
    [8.345, 2, 8.35],
    [1.00499999, 2, 1],
    [0.1 + 0.2, 2, 0.3],
    [372.6753559783619, 2, 372.68],
    [1e-7, 2, 0],
    [-1e-9, 2, 0],
    [123_456_789.125, 2, 123_456_789.13],
    [1.55283333, 4, 1.5528],
    [0.00005, 4, 0.0001],
  ])('%d to %d places is %d', (value, decimals, expected) => {
    expect(roundHalfAway(value, decimals)).toBe(expected);
  });
});

describe('warnings of the staircase', () => {
  it('47 pieces fill a load: one more costs 21.62', () => {
    expect(priceJob(job({ quantity: 47 })).warnings).toEqual([
      {
        code: 'next-piece-starts-a-load',
        message: 'One piece more starts load 2 and takes the lot from 138.69 to 160.31.',
        quantity: 48,
        loads: 2,
        priceTotal: 160.31,
        unitPrice: 3.3398,
      },
    ]);
  });

  it('48 pieces: 47 would be cheaper each', () => {
    expect(priceJob(job({ quantity: 48 })).warnings).toEqual([
      {
        code: 'last-load-is-dear',
        message: '47 pieces fill 1 load at 2.9509 a piece; at 48 a piece costs 3.3398.',
        quantity: 47,
        loads: 1,
        priceTotal: 138.69,
        unitPrice: 2.9509,
      },
    ]);
  });

  it.each([10, 25, 46, 90, 940])('nothing to say about %d pieces', (quantity) => {
    expect(priceJob(job({ quantity })).warnings.filter(({ code }) => code === 'last-load-is-dear')).toEqual(
      [],
    );
  });

  it('under a minimum lot charge another load costs nothing, and nothing is said', () => {
    expect(priceJob(job({ quantity: 47, rates: { minimumLot: 500 } })).warnings).toEqual([]);
  });
});

describe('break lists', () => {
  it('says nothing where multiplying never costs more than the next break', () => {
    const [first] = priceQuantities({ job: EXAMPLE_JOB, quantities: [47, 48] });
    expect(first).toMatchObject({ nextBreakCheaperFrom: null, nextBreakMessage: '' });
  });

  it('says from where the next break is cheaper', () => {
    const [first] = priceQuantities({ job: EXAMPLE_JOB, quantities: [25, 47] });
    expect(first?.nextBreakMessage).toBe(
      'From 28 pieces on, 47 pieces for 138.69 cost less than 4.9584 each.',
    );
  });

  it.each([
    ['none', []],
    ['the same twice', [10, 10]],
  ])('refuses %s', (_, quantities) => {
    expect(() => priceQuantities({ job: EXAMPLE_JOB, quantities })).toThrowError(
      /at least one quantity, each once/,
    );
  });

  it('refuses half a piece, by place', () => {
    expect(() => priceQuantities({ job: EXAMPLE_JOB, quantities: [10, 2.5] })).toThrowError(
      /quantities\[1\] is 2.5/,
    );
  });
});

describe('sensitivity', () => {
  const of = (path: string, changes: Changes = {}) =>
    sensitivity(job(changes)).find((row) => row.path === path);

  it('one per cent of the line rate is one per cent of 64.4 with rework, overhead and margin on it', () => {
    const expected = (0.644 * 1.04 * 1.22) / 0.7;
    expect(of('rates.linePerHour')?.up).toBeCloseTo(expected, 10);
    expect(of('rates.linePerHour')?.down).toBeCloseTo(-expected, 10);
    expect(of('rates.linePerHour')?.percent).toBeCloseTo((100 * expected) / 372.6753559783619, 10);
  });

  it('one per cent of the margin is not one per cent of the price', () => {
    expect(of('rates.marginShare')?.up).toBeCloseTo(260.8727491848533 * (1 / 0.697 - 1 / 0.7), 9);
  });

  it('sees the step of the staircase', () => {
    // 47.6 pieces by current: 47 × 5 = 235 pieces; one per cent more current is 48 × 5 = 240.
    expect(of('limits.maxCurrentA', { quantity: 240 })).toMatchObject({ changesLoads: true });
    expect(of('limits.maxCurrentA', { quantity: 240 })?.up).toBeLessThan(-15);
    expect(of('rack.maxLoadKg')).toMatchObject({ up: 0, down: 0, percent: 0, changesLoads: false });
  });

  it('says so where no price exists', () => {
    expect(of('process.rectifierEfficiency', { process: { rectifierEfficiency: 1 } })?.up).toBeNull();
    const one = { limits: { maxCurrentA: 0.84 } };
    expect(of('part.areaMm2', one)?.up).toBeNull();
    expect(of('part.areaMm2', one)?.down).toBeLessThan(0);
  });

  it('moves neither zeros nor whole numbers, and puts the weightiest first', () => {
    const rows = sensitivity(EXAMPLE_JOB);
    expect(rows.map(({ path }) => path)).not.toContain('quantity');
    expect(rows.map(({ path }) => path)).not.toContain('process.heatingKw');
    expect(rows[0]).toMatchObject({ path: 'part.areaMm2', changesLoads: true });
    expect(rows.every((row, i) => row.percent <= (rows[i - 1]?.percent ?? Infinity))).toBe(true);
  });

  it('reaches into lists', () => {
    expect(of('process.chemicals[0].pricePerKg')?.up).toBeCloseTo(
      ((0.01764 + 0.0169344) * 0.01 * 1.04 * 1.22) / 0.7,
      10,
    );
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
    expect(() => priceJob(job(changes))).toThrowError(expect.objectContaining({ argument }));
  });
});
