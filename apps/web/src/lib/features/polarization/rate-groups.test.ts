import type { PolarizationScanItem, ScanFinish } from '@huelot/contracts';
import { describe, expect, it } from 'vitest';
import { finishRatios, rateGroups } from './rate-groups.ts';

const scan = (finish: ScanFinish, mmPerYear: number, extra: object = {}) =>
  ({
    ...{ id: 1, finish, film: finish === 'bare' ? '' : 'black', medium: 'tap water' },
    material: { id: 1, name: 'Carbon steel 1075', condition: '', baseMetal: 'steel' },
    result: { mmPerYear, intervalMmPerYear: { low: mmPerYear / 1.1, high: mmPerYear * 1.1 } },
    ...extra,
  }) as unknown as PolarizationScanItem;

describe('rates beside each other', () => {
  it('are compared in one medium and on one material only', () => {
    const groups = rateGroups([
      scan('bare', 0.2),
      scan('coloured', 0.18, { medium: 'Tap water' }),
      scan('coloured', 0.4, { medium: '3.5 % NaCl' }),
      scan('coloured', 0.4, { material: { id: 2, name: 'Tool steel', condition: '' } }),
    ]);
    expect(groups.map(({ scans }) => scans.length)).toEqual([2, 1, 1]);
  });

  it('say how many times slower than bare, with an interval on its logarithm', () => {
    const [group] = rateGroups([scan('bare', 0.2), scan('coloured-and-oiled', 0.002)]);
    const [ratio] = finishRatios(group ?? { key: '', name: '', scans: [] });
    expect(ratio?.ratio).toBeCloseTo(100, 9);
    expect(ratio?.interval?.low).toBeCloseTo(100 / Math.exp(Math.SQRT2 * Math.log(1.1)), 6);
    expect(ratio?.flags).toEqual([]);
  });

  it('a black film that was not sealed corroded as fast as bare steel: it is not told from no effect', () => {
    const [group] = rateGroups([scan('bare', 0.2), scan('coloured', 0.19)]);
    expect(finishRatios(group ?? { key: '', name: '', scans: [] })[0]?.flags).toEqual([
      'not told from no effect',
    ]);
  });

  it('claim nothing where no bare specimen was scanned', () => {
    const [group] = rateGroups([scan('coloured', 0.002)]);
    expect(finishRatios(group ?? { key: '', name: '', scans: [] })).toEqual([]);
  });
});
