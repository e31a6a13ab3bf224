import { addInstrument } from '../lab/instruments/index.ts';
import {
  createPowerSupply,
  createRack,
  createRateCard,
  createTank,
  type NewPowerSupply,
  type NewRack,
} from '@huelot/contracts';
import type { Db } from '../db/client.ts';
import { putInForce } from '../catalog/rates/index.ts';
import { startBath } from '../lab/baths/index.ts';
import { addSupply, addRack } from '../catalog/equipment/index.ts';
import { addTank } from '../lab/tanks/index.ts';
import type { Timeline } from './backdate.ts';
import type { Actors } from './people.ts';
import { rates } from './rates.ts';
import { tanks } from './tanks.ts';

/* Supplies and racks of the invented line: every figure is made up, and plausible. */

const supplies = {
  valve: {
    code: 'PS-1',
    name: 'Valve-metal supply',
    maxVoltageV: 120,
    maxCurrentA: 200,
    efficiency: 0.8,
    tank: 'T4',
  },
  caustic: {
    code: 'PS-2',
    name: 'Caustic supply',
    maxVoltageV: 6,
    maxCurrentA: 1500,
    efficiency: 0.85,
    tank: 'T6',
  },
  anodize: {
    code: 'PS-3',
    name: 'Anodize supply',
    maxVoltageV: 24,
    maxCurrentA: 600,
    efficiency: 0.88,
    tank: 'T11',
  },
} satisfies Record<string, Omit<NewPowerSupply, 'notes' | 'tankIds'> & { tank: string }>;

const racks = {
  titanium: {
    code: 'RK-1',
    name: 'Titanium hooks, sixty',
    baseMetal: 'titanium',
    hooks: 60,
    windowWidthMm: 480,
    windowHeightMm: 600,
    layers: 2,
    gapMm: 20,
    maxLoadKg: 8,
    massKg: 1.6,
    bareAreaMm2: 42_000,
  },
  steel: {
    code: 'RK-2',
    name: 'Steel frame for caustic',
    baseMetal: 'steel',
    hooks: 24,
    windowWidthMm: 700,
    windowHeightMm: 400,
    layers: 3,
    gapMm: 30,
    maxLoadKg: 25,
    massKg: 3.2,
    bareAreaMm2: 90_000,
  },
  aluminium: {
    code: 'RK-3',
    name: 'Aluminium spline',
    baseMetal: 'aluminium',
    hooks: 48,
    windowWidthMm: 1200,
    windowHeightMm: 700,
    layers: 2,
    gapMm: 40,
    maxLoadKg: 60,
    massKg: 9,
    bareAreaMm2: 260_000,
  },
} satisfies Record<string, Omit<NewRack, 'notes'>>;

export interface Equipment {
  tankIds: Map<string, number>;
  supplies: Record<keyof typeof supplies, number>;
  racks: Record<keyof typeof racks, number>;
  rateCardId: number;
  colourMeterId: number;
}

/** Tanks with a bath in each, supplies, racks and the first rate card; returns the keys. */
export async function seedEquipment(
  db: Db,
  { actors, story, since }: { actors: Actors; story: Timeline; since: number },
): Promise<Equipment> {
  const actor = actors.olive;
  return story.at(since, async () => {
    const tankIds = new Map<string, number>();
    for (const facts of tanks) {
      const tank = await addTank(db, { actor, input: createTank.body.parse(facts) });
      tankIds.set(tank.code, tank.id);
      await startBath(db, { actor: actors.lena, tankId: tank.id, notes: '' });
    }
    const supply = async ({ tank, ...facts }: (typeof supplies)[keyof typeof supplies]) => {
      const input = createPowerSupply.body.parse({ ...facts, notes: '', tankIds: [tankIds.get(tank)] });
      return (await addSupply(db, { actor, input })).id;
    };
    const rack = async (facts: (typeof racks)[keyof typeof racks]) => {
      const input = createRack.body.parse({ ...facts, notes: '' });
      return (await addRack(db, { actor, input })).id;
    };
    const card = createRateCard.body.parse({ fromRevision: 0, rates, note: 'Rates of the first year' });
    return {
      tankIds,
      supplies: {
        valve: await supply(supplies.valve),
        caustic: await supply(supplies.caustic),
        anodize: await supply(supplies.anodize),
      },
      racks: {
        titanium: await rack(racks.titanium),
        steel: await rack(racks.steel),
        aluminium: await rack(racks.aluminium),
      },
      rateCardId: (await putInForce(db, { actor, input: card })).id,
      colourMeterId: (
        await addInstrument(db, {
          actor: actors.lena,
          input: {
            ...{ code: 'SP-1', name: 'Spectrophotometer', kind: 'colour-meter', serial: '', notes: '' },
            calibrationDueOn: new Date(since + 400 * 86_400_000).toISOString().slice(0, 10),
          },
        })
      ).id,
    };
  });
}
