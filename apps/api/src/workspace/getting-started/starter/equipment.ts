import type { NewPowerSupply, NewRack, TankContents } from '@huelot/contracts';
import { exampleSize, type Starter } from './starter.ts';

/** A supply is connected to the tanks in use that hold what it is for. */
export type SupplyFacts = Omit<NewPowerSupply, 'tankIds'> & { contents: TankContents };
const notes = 'From the starter set: its figures are examples.';
const example = { source: exampleSize, evidence: 'C' } as const;

export const starterSupplies: readonly Starter<SupplyFacts>[] = [
  {
    key: 'PS-1',
    ...example,
    facts: {
      ...{ code: 'PS-1', name: 'Interference colour', contents: 'mild-salt', notes },
      ...{ maxVoltageV: 120, maxCurrentA: 60, efficiency: 0.8 },
    },
  },
  {
    key: 'PS-2',
    ...example,
    facts: {
      ...{ code: 'PS-2', name: 'Hot caustic', contents: 'hot-caustic', notes },
      ...{ maxVoltageV: 6, maxCurrentA: 500, efficiency: 0.85 },
    },
  },
  {
    key: 'PS-3',
    ...example,
    facts: {
      ...{ code: 'PS-3', name: 'Anodize', contents: 'sulfuric-anodize', notes },
      ...{ maxVoltageV: 24, maxCurrentA: 200, efficiency: 0.88 },
    },
  },
];

export const starterRacks: readonly Starter<NewRack>[] = [
  {
    key: 'RK-1',
    ...example,
    facts: {
      ...{
        code: 'RK-1',
        name: 'Titanium hooks',
        baseMetal: 'titanium',
        hooks: 20,
        layers: 1,
        gapMm: 20,
        notes,
      },
      ...{ windowWidthMm: 480, windowHeightMm: 450, maxLoadKg: 5, massKg: 0.8, bareAreaMm2: 15_000 },
    },
  },
  {
    key: 'RK-2',
    ...example,
    facts: {
      ...{ code: 'RK-2', name: 'Steel frame for caustic', baseMetal: 'steel', hooks: 12, layers: 1 },
      ...{ windowWidthMm: 480, windowHeightMm: 400, gapMm: 30, notes },
      ...{ maxLoadKg: 12, massKg: 2, bareAreaMm2: 40_000 },
    },
  },
  {
    key: 'RK-3',
    ...example,
    facts: {
      ...{
        code: 'RK-3',
        name: 'Aluminium spline',
        baseMetal: 'aluminium',
        hooks: 24,
        layers: 1,
        gapMm: 30,
        notes,
      },
      ...{ windowWidthMm: 480, windowHeightMm: 450, maxLoadKg: 15, massKg: 2, bareAreaMm2: 60_000 },
    },
  },
];
