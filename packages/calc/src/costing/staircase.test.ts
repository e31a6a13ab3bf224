import { describe, expect, it } from 'vitest';
import { changedJob } from '../../reference/costing/changed-job.ts';
import { EXAMPLE_JOB, priceJob, priceQuantities } from './index.ts';

describe('warnings of the staircase', () => {
  it('47 pieces fill a load: one more costs 21.62', () => {
    expect(priceJob(changedJob({ quantity: 47 })).warnings).toEqual([
      {
        code: 'next-piece-starts-a-load',
        message: 'One piece more starts load 2 and takes the lot from ¤138.69 to ¤160.31.',
        quantity: 48,
        loads: 2,
        priceTotal: 160.31,
        unitPrice: 3.3398,
      },
    ]);
  });

  it('48 pieces: 47 would be cheaper each', () => {
    expect(priceJob(changedJob({ quantity: 48 })).warnings).toEqual([
      {
        code: 'last-load-is-dear',
        message: '47 pieces fill 1 load at ¤2.9509 a piece; at 48 a piece costs ¤3.3398.',
        quantity: 47,
        loads: 1,
        priceTotal: 138.69,
        unitPrice: 2.9509,
      },
    ]);
  });

  it.each([10, 25, 46, 90, 940])('nothing to say about %d pieces', (quantity) => {
    expect(
      priceJob(changedJob({ quantity })).warnings.filter(({ code }) => code === 'last-load-is-dear'),
    ).toEqual([]);
  });

  it('under a minimum lot charge another load costs nothing, and nothing is said', () => {
    expect(priceJob(changedJob({ quantity: 47, rates: { minimumLot: 500 } })).warnings).toEqual([]);
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
      'From 28 pieces on, 47 pieces for ¤138.69 cost less than ¤4.9584 each.',
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
