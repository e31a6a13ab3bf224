import type { NewTank } from '@huelot/contracts';
import { exampleSize, type Starter } from './starter.ts';

type Sketch = Pick<NewTank, 'kind' | 'contents'> &
  Partial<Pick<NewTank, 'heaterKw' | 'coolerKw' | 'cover' | 'temperatureMinC' | 'temperatureMaxC'>>;

const tank = (code: string, name: string, sketch: Sketch): Starter<NewTank> => ({
  key: code,
  source: exampleSize,
  evidence: 'C',
  facts: {
    code,
    name,
    insideLengthMm: 600,
    insideWidthMm: 300,
    insideDepthMm: 600,
    workingVolumeL: 90,
    heaterKw: 0,
    coolerKw: 0,
    cover: 'none',
    temperatureMinC: null,
    temperatureMaxC: null,
    lineOrder: Number(code.slice(1)),
    notes: 'From the starter set: its size is an example.',
    ...sketch,
  },
});
const warm = (temperatureMinC: number, temperatureMaxC: number, heaterKw: number) => ({
  temperatureMinC,
  temperatureMaxC,
  heaterKw,
});

/** A small line that serves all three families, in the order of the work; sizes are examples. */
export const starterTanks: readonly Starter<NewTank>[] = [
  tank('T1', 'Alkaline clean', { kind: 'immersion', contents: 'alkaline-clean', ...warm(45, 70, 3) }),
  tank('T2', 'Rinse', { kind: 'rinse', contents: 'water-rinse' }),
  tank('T3', 'Interference colour', {
    ...{ kind: 'electrolytic', contents: 'mild-salt' },
    ...{ temperatureMinC: 15, temperatureMaxC: 30, coolerKw: 1 },
  }),
  tank('T4', 'Hot caustic', {
    ...{ kind: 'electrolytic', contents: 'hot-caustic', cover: 'floating-balls' },
    ...warm(40, 95, 6),
  }),
  tank('T5', 'Hot rinse', { kind: 'rinse', contents: 'hot-rinse', ...warm(50, 85, 3) }),
  tank('T6', 'Inhibitor oil', { kind: 'immersion', contents: 'oil' }),
  tank('T7', 'Alkaline etch', { kind: 'immersion', contents: 'alkaline-etch', ...warm(40, 65, 3) }),
  tank('T8', 'Desmut', { kind: 'immersion', contents: 'desmut' }),
  tank('T9', 'Sulfuric anodize', {
    ...{ kind: 'electrolytic', contents: 'sulfuric-anodize' },
    ...{ temperatureMinC: 16, temperatureMaxC: 24, coolerKw: 3 },
  }),
  tank('T10', 'Dye', { kind: 'immersion', contents: 'dye', ...warm(40, 65, 2) }),
  tank('T11', 'Hot seal', { kind: 'immersion', contents: 'seal', cover: 'lid', ...warm(80, 99, 4) }),
];
