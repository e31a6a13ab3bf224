import { describe, expect, it } from 'vitest';
import { type Changes, changedJob } from '../../reference/costing/changed-job.ts';
import { CalcError } from '../errors.ts';
import { type LoadLimitKey, piecesPerLoad } from './index.ts';

const limit = (key: LoadLimitKey, changes: Changes): number | undefined =>
  piecesPerLoad(changedJob(changes)).limits.find((found) => found.key === key)?.pieces;

describe('each limit, by hand', () => {
  it.each<[string, LoadLimitKey, Changes, number | undefined]>([
    [
      '40 A at 2 A/dm² is 20 dm², less 2 dm² of rack, at 0.42 dm² a piece',
      'amps',
      { rack: { bareAreaMm2: 20_000 } },
      42,
    ],
    ['current goes by the electrical area', 'amps', { part: { electricalAreaMm2: 2100 } }, 95],
    ['an exact fit loses no piece: 42 A over 0.84 A', 'amps', { limits: { maxCurrentA: 42 } }, 50],
    ['no current, no such limit', 'amps', { process: { peakAPerM2: 0 } }, undefined],
    ['no supply, no such limit', 'amps', { limits: { maxCurrentA: null } }, undefined],
    ['hooks', 'hooks', { rack: { hooks: 12 } }, 12],
    ['9 columns × 6 rows', 'window', {}, 54],
    ['two layers', 'window', { rack: { layers: 2 } }, 108],
    [
      'a gap is between pieces only: 10 pieces of 80 and 9 gaps of 20 fill 980',
      'window',
      { rack: { windowWidthMm: 980 } },
      60,
    ],
    ['no gap', 'window', { rack: { gapMm: 0 } }, 88],
    ['a piece of unknown size', 'window', { part: { widthMm: null } }, undefined],
    ['a piece of unknown height', 'window', { part: { heightMm: null } }, undefined],
    ['a rack of unknown window', 'window', { rack: { windowHeightMm: null } }, undefined],
    ['a rack of unknown width', 'window', { rack: { windowWidthMm: null } }, undefined],
    ['8 kg of 21 g', 'weight', {}, 380],
    ['12 kg less a rack of 4 kg', 'hoist', { rack: { massKg: 4 }, limits: { hoistMaxKg: 12 } }, 380],
    ['400 L at 0.5 dm² a litre', 'bathArea', { limits: { bathVolumeL: 400, maxAreaMm2PerL: 5000 } }, 476],
    ['a bath volume without a rule', 'bathArea', { limits: { bathVolumeL: 400 } }, undefined],
    ['a rule without a bath volume', 'bathArea', { limits: { maxAreaMm2PerL: 5000 } }, undefined],
    ['0.42 dm² at 2 A/dm² and 28 V make 23.52 W', 'cooling', { limits: { coolingKw: 0.5 } }, 21],
    [
      'the rack heats the bath too',
      'cooling',
      { rack: { bareAreaMm2: 42_000 }, limits: { coolingKw: 0.5 } },
      11,
    ],
    [
      'no voltage, no heat',
      'cooling',
      { process: { averageVoltageV: 0 }, limits: { coolingKw: 0.5 } },
      undefined,
    ],
    ['proved in one load', 'validated', { limits: { validatedPieces: 30 } }, 30],
  ])('%s', (...[, key, changes, pieces]) => {
    expect(limit(key, changes)).toBe(pieces);
  });

  it('names every limit that ties', () => {
    const plan = piecesPerLoad(changedJob({ rack: { hooks: 47 } }));
    expect(plan.binding).toEqual(['amps', 'hooks']);
  });

  it('opens a limit to its figures', () => {
    const [amps] = piecesPerLoad(changedJob({ rack: { bareAreaMm2: 20_000 } })).limits;
    expect(amps?.formula).toContain('bare area of the rack');
    expect(amps?.inputs).toEqual([
      { path: 'limits.maxCurrentA', label: 'current of the supply', value: 40, unit: 'A' },
      { path: 'process.peakAPerM2', label: 'peak current density', value: 200, unit: 'A/m²' },
      { path: 'rack.bareAreaMm2', label: 'bare area of the rack', value: 20_000, unit: 'mm²' },
      { path: 'part.electricalAreaMm2', label: 'electrical area of a piece', value: 4200, unit: 'mm²' },
    ]);
  });
});

describe('pitfall: a load sized by part area alone, or by the mean current', () => {
  it('the peak density sizes the load, and the bare rack takes its share', () => {
    // 40 A over 0.42 dm² at a mean of 0.5 A/dm² would be 190 pieces: the supply would trip in the first seconds.
    expect(limit('amps', {})).toBe(47);
    expect(limit('amps', { rack: { bareAreaMm2: 100_000 } })).toBe(23);
  });
});

describe('loads', () => {
  it.each([
    [1, 1, 1, [1]],
    [47, 1, 47, [47]],
    [48, 2, 1, [24, 24]],
    [95, 3, 1, [32, 32, 31]],
  ])('%d pieces at 47 a load', (...[quantity, loads, lastLoad, balanced]) => {
    expect(piecesPerLoad(changedJob({ quantity }))).toMatchObject({ loads, lastLoad, balanced });
  });
});

describe('refusals', () => {
  const fault = (changes: Changes): CalcError => {
    try {
      piecesPerLoad(changedJob(changes));
    } catch (error) {
      if (error instanceof CalcError) return error;
    }
    throw new Error('nothing was refused');
  };

  it.each<[string, Changes, Partial<CalcError>]>([
    [
      'a rack that alone takes the current',
      { rack: { bareAreaMm2: 200_000 } },
      { code: 'impossible', argument: 'limits.maxCurrentA' },
    ],
    [
      'a piece larger than the window',
      { part: { widthMm: 901 } },
      { code: 'impossible', argument: 'rack.windowWidthMm' },
    ],
    ['half a piece', { quantity: 1.5 }, { code: 'out-of-range', argument: 'quantity' }],
    ['no piece', { quantity: 0 }, { code: 'out-of-range', argument: 'quantity' }],
    ['NaN', { part: { areaMm2: NaN } }, { code: 'not-finite', argument: 'part.areaMm2' }],
    [
      'a missing figure',
      { rack: { gapMm: undefined as unknown as number } },
      { code: 'not-finite', argument: 'rack.gapMm' },
    ],
    [
      'null where a figure is needed',
      { part: { massKg: null as unknown as number } },
      { code: 'not-finite', argument: 'part.massKg' },
    ],
    [
      'no limit at all',
      { part: { widthMm: null }, rack: { hooks: null, maxLoadKg: null }, limits: { maxCurrentA: null } },
      { code: 'impossible', argument: 'rack' },
    ],
  ])('%s', (_, changes, expected) => {
    expect(fault(changes)).toMatchObject(expected);
  });
});
