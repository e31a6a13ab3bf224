import { describe, expect, it } from 'vitest';
import { type Changes, changedJob } from '../../reference/costing/changed-job.ts';
import { EXAMPLE_JOB, sensitivity } from './index.ts';

describe('sensitivity', () => {
  const of = (path: string, changes: Changes = {}) =>
    sensitivity(changedJob(changes)).find((row) => row.path === path);

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
