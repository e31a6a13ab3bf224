import type { Db } from '../../apps/api/src/db/client.ts';
import { proveRevision } from './evidence.ts';

/** The figures a priced test needs, all invented. */
export const rates = {
  labourPerHour: 32,
  energyPerKwh: 0.24,
  waterPerM3: 4.2,
  wastePerM3: 9.5,
  overheadShare: 0.22,
  overheadPerLabourHour: 0,
  marginShare: 0.3,
  minimumLot: 120,
  expediteShare: 0.25,
  labour: { setupS: 2700, rackS: 18, unrackS: 8, inspectS: 10, packS: 6 },
  masking: { timeS: 40, materialCost: 0.12 },
  charges: { certificateCost: 18, packingCost: 7.5 },
  quantityBreaks: [48, 480],
  families: Object.fromEntries(
    ['interference-colour', 'caustic-colour', 'dyed-anodize'].map((family) => [
      family,
      {
        linePerHour: 46,
        heatingKw: 0,
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
    ]),
  ),
};

const colour = {
  mode: 'voltage',
  programme: [
    { kind: 'ramp', to: 30, seconds: 20 },
    { kind: 'hold', to: 30, seconds: 60 },
  ],
  peakCurrentDensityAPerM2: 200,
  steadyCurrentDensityAPerM2: 5,
  timeConstantS: 12,
  averageVoltageV: 28,
  chargeCPerM2: 3000,
};
const caution = 'The safety data sheet, the local code and trained people decide.';

/**
 * A small shop by rows: one customer with a titanium part, a line of three tanks with baths, a supply, a rack, rates
 * and an approved recipe that colours at 30 V. Returns the keys.
 */
export async function equipShop(db: Db) {
  const [author, approver] = await Promise.all(
    ['author', 'approver'].map((name) =>
      db.prisma.person.create({
        data: {
          name: `${name}-${Math.random().toString(36).slice(2)}`,
          displayName: name,
          roles: ['quality'],
        },
      }),
    ),
  );
  if (author === undefined || approver === undefined) throw new Error('people are needed');
  const customer = await db.prisma.customer.create({
    data: { number: `C-${author.id}`, name: `Customer ${author.id}`, currency: 'EUR' },
  });
  const material = await db.prisma.material.create({
    data: {
      name: `Titanium ${author.id}`,
      baseMetal: 'titanium',
      densityKgPerM3: 4510,
      heatCapacityJPerKgK: 524,
      source: 'test',
      evidence: 'M',
    },
  });
  const part = await db.prisma.part.create({
    data: {
      customerId: customer.id,
      number: `TI-${author.id}`,
      revision: 'A',
      description: 'bracket',
      materialId: material.id,
      widthMm: 80,
      heightMm: 70,
      depthMm: 10,
      massKg: 0.021,
      geometryKind: 'typed',
      geometry: {
        kind: 'typed',
        areaMm2: 4200,
        electricalAreaMm2: null,
        volumeMm3: null,
        origin: 'drawing',
        maskedMm2: 0,
        contactMm2: 0,
        roughnessFactor: 1,
      },
      areaMm2: 4200,
      electricalAreaMm2: 4200,
      coatedAreaMm2: 4200,
      areaMethod: 'typed',
      areaFoundById: author.id,
      areaFoundAt: new Date(),
    },
  });
  const tank = async (code: string, contents: string, kind: string) => {
    const row = await db.prisma.tank.create({
      data: {
        code: `${code}${author.id}`,
        name: code,
        kind,
        contents,
        insideLengthMm: 1000,
        insideWidthMm: 600,
        insideDepthMm: 800,
        workingVolumeL: 400,
        temperatureMinC: 10,
        temperatureMaxC: 80,
      },
    });
    await db.prisma.bath.create({
      data: {
        number: `B-${row.id}`,
        tankId: row.id,
        contents,
        madeUpAt: new Date('2026-01-01'),
        madeUpById: author.id,
      },
    });
    return row;
  };
  const [clean, rinse, salt] = [
    await tank('K', 'alkaline-clean', 'immersion'),
    await tank('R', 'water-rinse', 'rinse'),
    await tank('E', 'mild-salt', 'electrolytic'),
  ];
  const supply = await db.prisma.powerSupply.create({
    data: {
      code: `PS-${author.id}`,
      name: 'supply',
      maxVoltageV: 120,
      maxCurrentA: 40,
      efficiency: 0.8,
      tanks: { create: [{ tankId: salt.id }] },
    },
  });
  const rack = await db.prisma.rack.create({
    data: {
      code: `RK-${author.id}`,
      name: 'rack',
      baseMetal: 'titanium',
      hooks: 60,
      windowWidthMm: 900,
      windowHeightMm: 600,
      gapMm: 20,
      maxLoadKg: 8,
    },
  });
  const last = await db.prisma.rateCard.aggregate({ _max: { revision: true } });
  const rateCard = await db.prisma.rateCard.create({
    data: { revision: (last._max.revision ?? 0) + 1, rates, createdById: author.id },
  });
  const revision = await db.prisma.recipeRevision.create({
    data: {
      recipe: {
        create: {
          number: `R-${author.id}`,
          name: 'Blue',
          family: 'interference-colour',
          baseMetals: ['titanium'],
        },
      },
      revision: 1,
      authorId: author.id,
      steps: {
        create: [
          {
            position: 1,
            kind: 'clean',
            title: 'Clean',
            contents: 'alkaline-clean',
            durationS: 300,
            dripS: 10,
            settings: [{ quantity: 'temperatureC', target: 60, low: 55, high: 65 }],
            cautions: [caution],
            record: ['temperatureC'],
          },
          {
            position: 2,
            kind: 'rinse',
            title: 'Rinse',
            contents: 'water-rinse',
            durationS: 120,
            dripS: 10,
            settings: [],
            cautions: [],
            record: [],
          },
          {
            position: 3,
            kind: 'colour',
            title: 'Colour',
            contents: 'mild-salt',
            durationS: 180,
            dripS: 20,
            settings: [{ quantity: 'voltageV', target: 30, low: 29, high: 31 }],
            electrical: colour,
            cautions: [caution],
            record: ['voltageV', 'currentA'],
          },
          {
            position: 4,
            kind: 'inspect',
            title: 'Look at the colour',
            contents: null,
            durationS: 600,
            settings: [],
            cautions: [],
            record: [],
          },
        ],
      },
    },
  });
  await proveRevision(db, { revisionId: revision.id, materialId: material.id });
  await db.prisma.recipeRevision.update({
    where: { id: revision.id },
    data: { status: 'approved', approvedById: approver.id, approvedAt: new Date() },
  });
  const meter = await db.prisma.instrument.create({
    data: { code: 'SP-1', name: 'Spectrophotometer', kind: 'colour-meter' },
  });
  return {
    authorId: author.id,
    colourMeterId: meter.id,
    customerId: customer.id,
    partId: part.id,
    materialId: material.id,
    recipeRevisionId: revision.id,
    recipeId: revision.recipeId,
    rackId: rack.id,
    supplyId: supply.id,
    rateCardId: rateCard.id,
    tanks: [
      { position: 1, tankId: clean.id },
      { position: 2, tankId: rinse.id },
      { position: 3, tankId: salt.id },
    ],
  };
}
export type EquippedShop = Awaited<ReturnType<typeof equipShop>>;
