import type { Rates } from '@huelot/contracts';
import type { Db } from '../../apps/api/src/db/client.ts';
import { nextNumber } from '../../apps/api/src/db/numbers.ts';

/* The line of an invented shop: every figure is made up, and plausible. */

const tank = (
  code: string,
  name: string,
  of: {
    kind: string;
    contents: string;
    litres: number;
    warm?: [number, number];
    heaterKw?: number;
    coolerKw?: number;
    cover?: string;
  },
) => ({ code, name, ...of });
const tanks = [
  tank('T1', 'Alkaline clean', {
    kind: 'immersion',
    contents: 'alkaline-clean',
    litres: 400,
    warm: [45, 70],
    heaterKw: 6,
  }),
  tank('T2', 'Rinse after clean', { kind: 'rinse', contents: 'water-rinse', litres: 380 }),
  tank('T3', 'Acid etch', { kind: 'immersion', contents: 'acid-etch', litres: 300 }),
  tank('T4', 'Valve-metal colour', {
    kind: 'electrolytic',
    contents: 'mild-salt',
    litres: 420,
    warm: [15, 30],
    coolerKw: 2,
  }),
  tank('T5', 'Final rinse', { kind: 'rinse', contents: 'water-rinse', litres: 380 }),
  tank('T6', 'Hot caustic', {
    kind: 'electrolytic',
    contents: 'hot-caustic',
    litres: 400,
    warm: [40, 95],
    heaterKw: 12,
    cover: 'floating-balls',
  }),
  tank('T7', 'Hot rinse', { kind: 'rinse', contents: 'hot-rinse', litres: 300, warm: [50, 85], heaterKw: 6 }),
  tank('T8', 'Inhibitor oil', { kind: 'immersion', contents: 'oil', litres: 200 }),
  tank('T9', 'Alkaline etch', {
    kind: 'immersion',
    contents: 'alkaline-etch',
    litres: 400,
    warm: [40, 65],
    heaterKw: 6,
  }),
  tank('T10', 'Desmut', { kind: 'immersion', contents: 'desmut', litres: 400 }),
  tank('T11', 'Sulfuric anodize', {
    kind: 'electrolytic',
    contents: 'sulfuric-anodize',
    litres: 1200,
    warm: [16, 24],
    coolerKw: 14,
  }),
  tank('T12', 'Dye, red', { kind: 'immersion', contents: 'dye', litres: 300, warm: [40, 65], heaterKw: 4 }),
  tank('T13', 'Hot seal', {
    kind: 'immersion',
    contents: 'seal',
    litres: 400,
    warm: [80, 99],
    heaterKw: 12,
    cover: 'lid',
  }),
];

/** Tanks with a bath in each, supplies, racks and the first rate card; returns the keys by code. */
export async function equip(db: Db, of: { ownerId: number; labId: number; since: Date }) {
  const tankIds = new Map<string, number>();
  for (const [
    lineOrder,
    { litres, warm, heaterKw = 0, coolerKw = 0, cover = 'none', ...facts },
  ] of tanks.entries()) {
    const widthMm = 600;
    const depthMm = 850;
    const row = await db.prisma.tank.create({
      data: {
        ...facts,
        lineOrder,
        heaterKw,
        coolerKw,
        cover,
        workingVolumeL: litres,
        insideWidthMm: widthMm,
        insideDepthMm: depthMm,
        insideLengthMm: Math.ceil((litres * 1.12e6) / (widthMm * depthMm) / 10) * 10,
        temperatureMinC: warm?.[0] ?? null,
        temperatureMaxC: warm?.[1] ?? null,
      },
    });
    tankIds.set(facts.code, row.id);
    await db.prisma.bath.create({
      data: {
        number: await nextNumber(db.run, 'bath'),
        tankId: row.id,
        contents: facts.contents,
        madeUpAt: of.since,
        madeUpById: of.labId,
      },
    });
  }
  const supply = async (
    code: string,
    name: string,
    facts: { maxVoltageV: number; maxCurrentA: number; efficiency: number; tank: string },
  ) => {
    const { tank: tankCode, ...rest } = facts;
    const row = await db.prisma.powerSupply.create({
      data: { code, name, ...rest, tanks: { create: [{ tankId: tankIds.get(tankCode) ?? 0 }] } },
    });
    return row.id;
  };
  const supplies = {
    valve: await supply('PS-1', 'Valve-metal supply', {
      maxVoltageV: 120,
      maxCurrentA: 40,
      efficiency: 0.8,
      tank: 'T4',
    }),
    caustic: await supply('PS-2', 'Caustic supply', {
      maxVoltageV: 6,
      maxCurrentA: 400,
      efficiency: 0.85,
      tank: 'T6',
    }),
    anodize: await supply('PS-3', 'Anodize supply', {
      maxVoltageV: 24,
      maxCurrentA: 600,
      efficiency: 0.88,
      tank: 'T11',
    }),
  };
  const rack = async (
    code: string,
    name: string,
    facts: Omit<Parameters<typeof db.prisma.rack.create>[0]['data'], 'code' | 'name'>,
  ) => (await db.prisma.rack.create({ data: { ...facts, code, name } })).id;
  const racks = {
    titanium: await rack('RK-1', 'Titanium hooks, sixty', {
      baseMetal: 'titanium',
      hooks: 60,
      windowWidthMm: 900,
      windowHeightMm: 600,
      gapMm: 20,
      maxLoadKg: 8,
      massKg: 1.6,
      bareAreaMm2: 42_000,
    }),
    steel: await rack('RK-2', 'Steel frame for caustic', {
      baseMetal: 'steel',
      hooks: 24,
      windowWidthMm: 700,
      windowHeightMm: 400,
      gapMm: 30,
      maxLoadKg: 15,
      massKg: 3.2,
      bareAreaMm2: 90_000,
    }),
    aluminium: await rack('RK-3', 'Aluminium spline', {
      baseMetal: 'aluminium',
      hooks: 48,
      windowWidthMm: 2400,
      windowHeightMm: 1000,
      gapMm: 40,
      maxLoadKg: 60,
      massKg: 9,
      bareAreaMm2: 260_000,
    }),
  };
  const rateCard = await db.prisma.rateCard.create({
    data: { revision: 1, rates, note: 'Rates of the first year', createdById: of.ownerId },
  });
  return { tankIds, supplies, racks, rateCardId: rateCard.id };
}
export type Equipment = Awaited<ReturnType<typeof equip>>;

const rates: Rates = {
  labourPerHour: 34,
  energyPerKwh: 0.26,
  waterPerM3: 4.4,
  wastePerM3: 10.5,
  overheadShare: 0.22,
  overheadPerLabourHour: 0,
  marginShare: 0.3,
  minimumLot: 120,
  expediteShare: 0.25,
  labour: { setupS: 2700, rackS: 18, unrackS: 8, inspectS: 10, packS: 6 },
  masking: { timeS: 40, materialCost: 0.12 },
  charges: { certificateCost: 18, packingCost: 7.5 },
  quantityBreaks: [48, 120, 480],
  families: {
    'interference-colour': {
      linePerHour: 48,
      heatingKw: 2,
      rinseLPerLoad: 60,
      reworkShare: 0.04,
      stripPerM2: 9,
      chemical: {
        consumptionGPerM2: 5,
        pricePerKg: 3.5,
        dragOutLPerM2: 0.16,
        concentrationGPerL: 30,
        recoveryShare: 0,
      },
    },
    'caustic-colour': {
      linePerHour: 54,
      heatingKw: 9,
      rinseLPerLoad: 120,
      reworkShare: 0.05,
      stripPerM2: 5,
      chemical: {
        consumptionGPerM2: 120,
        pricePerKg: 2.4,
        dragOutLPerM2: 0.25,
        concentrationGPerL: 740,
        recoveryShare: 0.4,
      },
    },
    'dyed-anodize': {
      linePerHour: 88,
      heatingKw: 14,
      rinseLPerLoad: 350,
      reworkShare: 0.06,
      stripPerM2: 14,
      chemical: {
        consumptionGPerM2: 90,
        pricePerKg: 1.1,
        dragOutLPerM2: 0.16,
        concentrationGPerL: 180,
        recoveryShare: 0.25,
      },
    },
  },
};
