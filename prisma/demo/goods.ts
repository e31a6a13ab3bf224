import { meshMeasure, readStl, shapeArea } from '@huelot/calc';
import type { Geometry, Shape } from '@huelot/contracts';
import { createHash } from 'node:crypto';
import type { Db } from '../../apps/api/src/db/client.ts';
import { nextNumber } from '../../apps/api/src/db/numbers.ts';
import type { RecipeKey } from './recipes.ts';

/* Customers and parts of the invented shop. Names, places and addresses are made up. */

const customers = [
  {
    name: 'Falkenau Cycle Works',
    currency: 'EUR',
    taxRatePercent: 20,
    contact: 'Mira Sand',
    address: 'Mill Row 4\nFalkenau',
  },
  {
    name: 'Harrow & Pell Instruments',
    currency: 'EUR',
    taxRatePercent: 20,
    contact: 'Jon Pell',
    address: 'Signal House\nHarrowgate Wharf',
  },
  {
    name: 'Ostrava Lane Knives',
    currency: 'EUR',
    taxRatePercent: 20,
    contact: 'Tess Oban',
    address: '17 Forge Yard\nEastmoor',
  },
  {
    name: 'Lumen Audio',
    currency: 'EUR',
    taxRatePercent: 20,
    contact: 'Kai Berg',
    address: 'Unit 9, Quarry Park\nNorthbeck',
  },
  {
    name: 'Sable Jewellery',
    currency: 'EUR',
    taxRatePercent: 20,
    contact: 'Ana Wren',
    address: 'Upper Arcade 2\nMillbridge',
  },
] as const;

interface Good {
  customer: number;
  number: string;
  revision: string;
  description: string;
  material: string;
  recipe: RecipeKey;
  boxMm: [number, number, number];
  massKg: number;
  geometry: 'typed' | 'shapes' | 'mesh';
  areaMm2?: number;
  sample?: string;
  lab?: { L: number; a: number; b: number; toleranceDeltaE: number };
  more?: {
    significantSurfaces?: string;
    contactMarks?: string;
    maskingNotes?: string;
    maskingFeatures?: number;
    specification?: string;
    handling?: string;
  };
}
const goods: Good[] = [
  {
    customer: 0,
    number: 'FB-120',
    revision: 'C',
    description: 'seat clamp',
    material: 'Titanium grade 5, Ti-6Al-4V',
    recipe: 'blue',
    boxMm: [80, 70, 12],
    massKg: 0.021,
    geometry: 'typed',
    areaMm2: 4200,
    sample: 'S-14',
    more: {
      significantSurfaces: 'outside faces',
      contactMarks: 'inside the bore',
      handling: 'gloves, paper between',
    },
  },
  {
    customer: 0,
    number: 'FB-131',
    revision: 'A',
    description: 'bottle cage bolt M6',
    material: 'Titanium grade 2',
    recipe: 'gold',
    boxMm: [12, 40, 12],
    massKg: 0.004,
    geometry: 'shapes',
    sample: 'S-09',
  },
  {
    customer: 1,
    number: 'HP-7710',
    revision: '2',
    description: 'focus ring',
    material: 'Titanium grade 2',
    recipe: 'magenta',
    boxMm: [62, 62, 14],
    massKg: 0.038,
    geometry: 'shapes',
    lab: { L: 52, a: 36, b: -18, toleranceDeltaE: 4 },
    more: {
      significantSurfaces: 'knurl and front face',
      contactMarks: 'inside thread',
      maskingNotes: 'plug the thread',
      maskingFeatures: 1,
      specification: 'HP-S 12',
    },
  },
  {
    customer: 1,
    number: 'HP-7725',
    revision: '1',
    description: 'sensor plate',
    material: 'Niobium, commercial',
    recipe: 'green',
    boxMm: [50, 50, 2],
    massKg: 0.043,
    geometry: 'mesh',
    lab: { L: 62, a: -28, b: 18, toleranceDeltaE: 5 },
  },
  {
    customer: 2,
    number: 'OL-CHEF-21',
    revision: 'B',
    description: 'chef knife blade, pattern-welded',
    material: 'Pattern-welded steel 1084 and 15N20',
    recipe: 'peacock',
    boxMm: [48, 250, 3],
    massKg: 0.165,
    geometry: 'shapes',
    sample: 'S-21',
    more: { handling: 'sharp edge: sleeve on', contactMarks: 'tang only' },
  },
  {
    customer: 2,
    number: 'OL-BOL-03',
    revision: 'A',
    description: 'bolster',
    material: 'Carbon steel 1075',
    recipe: 'black',
    boxMm: [30, 28, 12],
    massKg: 0.062,
    geometry: 'typed',
    areaMm2: 3150,
    sample: 'S-22',
  },
  {
    customer: 3,
    number: 'LA-GRILLE-6',
    revision: 'D',
    description: 'speaker grille ring',
    material: 'Aluminium 6063',
    recipe: 'red',
    boxMm: [180, 180, 8],
    massKg: 0.21,
    geometry: 'shapes',
    sample: 'S-30',
    more: { significantSurfaces: 'front face', contactMarks: 'rear rim', specification: 'LA finish sheet 4' },
  },
  {
    customer: 4,
    number: 'SJ-DISC-18',
    revision: 'A',
    description: 'pendant blank',
    material: 'Niobium, commercial',
    recipe: 'green',
    boxMm: [18, 18, 1],
    massKg: 0.0022,
    geometry: 'shapes',
    sample: 'S-40',
  },
  {
    customer: 4,
    number: 'SJ-BAND-7',
    revision: 'A',
    description: 'ring band',
    material: 'Titanium grade 2',
    recipe: 'blue',
    boxMm: [22, 22, 7],
    massKg: 0.0031,
    geometry: 'typed',
    areaMm2: 980,
    sample: 'S-41',
  },
];

const covered = { maskedMm2: 0, contactMm2: 0, roughnessFactor: 1 };
const feature = (label: string, shape: Shape) => ({
  label,
  shape,
  count: 1,
  subtract: false,
  openings: null,
});
const shapes: Record<string, ReturnType<typeof feature>[]> = {
  'FB-131': [
    feature('thread', { kind: 'thread', diameterMm: 6, pitchMm: 1, lengthMm: 18 }),
    feature('head', { kind: 'bar', diameterMm: 10, lengthMm: 5 }),
  ],
  'HP-7710': [feature('ring', { kind: 'tube', outerDiameterMm: 62, innerDiameterMm: 52, lengthMm: 14 })],
  'OL-CHEF-21': [
    feature('blade', { kind: 'blade', lengthMm: 210, heightMm: 46, spineMm: 2.4, edgeMm: 0.5 }),
    feature('tang', { kind: 'plate', lengthMm: 60, widthMm: 22, thicknessMm: 3 }),
  ],
  'LA-GRILLE-6': [
    feature('ring', { kind: 'washer', outerDiameterMm: 180, innerDiameterMm: 150, thicknessMm: 6 }),
  ],
  'SJ-DISC-18': [feature('disc', { kind: 'bar', diameterMm: 18, lengthMm: 1 })],
};

/** Customers with contacts and addresses, and their parts with all three kinds of geometry. */
export async function bringGoods(db: Db, of: { estimatorId: number; since: Date }) {
  const customerIds: number[] = [];
  for (const { contact, address, ...facts } of customers) {
    const row = await db.prisma.customer.create({
      data: {
        ...facts,
        number: await nextNumber(db.run, 'customer'),
        createdAt: of.since,
        terms: 'Payment within 30 days, ex works.',
        contacts: {
          create: [
            {
              position: 1,
              name: contact,
              role: 'purchasing',
              email: `${contact.split(' ')[0]?.toLowerCase()}@example.com`,
            },
          ],
        },
        addresses: {
          create: [
            { position: 1, kind: 'billing', lines: address },
            { position: 2, kind: 'delivery', lines: address },
          ],
        },
      },
    });
    customerIds.push(row.id);
  }
  const parts: { id: number; customerId: number; recipe: RecipeKey; number: string }[] = [];
  for (const good of goods) {
    const customerId = customerIds[good.customer] ?? 0;
    const material = await db.prisma.material.findFirstOrThrow({ where: { name: good.material } });
    const geometry = await geometryOf(db, good, of);
    const row = await db.prisma.part.create({
      data: {
        customerId,
        number: good.number,
        revision: good.revision,
        description: good.description,
        materialId: material.id,
        conditionReceived: 'clean, as machined',
        widthMm: good.boxMm[0],
        heightMm: good.boxMm[1],
        depthMm: good.boxMm[2],
        massKg: good.massKg,
        geometryKind: geometry.facts.kind,
        geometry: geometry.facts,
        areaMm2: geometry.areaMm2,
        electricalAreaMm2: geometry.areaMm2,
        coatedAreaMm2: geometry.areaMm2,
        areaMethod: geometry.method,
        areaFoundById: of.estimatorId,
        areaFoundAt: of.since,
        createdAt: of.since,
        colourKind: good.lab ? 'lab' : 'sample',
        colourSample: good.sample ?? '',
        colourL: good.lab?.L ?? null,
        colourA: good.lab?.a ?? null,
        colourB: good.lab?.b ?? null,
        toleranceDeltaE: good.lab?.toleranceDeltaE ?? null,
        ...good.more,
      },
    });
    parts.push({ id: row.id, customerId, recipe: good.recipe, number: good.number });
  }
  return { customerIds, parts };
}

async function geometryOf(
  db: Db,
  good: Good,
  of: { estimatorId: number; since: Date },
): Promise<{ facts: Geometry; areaMm2: number; method: string }> {
  if (good.geometry === 'mesh') return meshGeometry(db, good, of);
  if (good.geometry === 'shapes') {
    const features = shapes[good.number] ?? [];
    const { wettedMm2 } = areasOf(features);
    return {
      facts: { kind: 'shapes', features, joints: [], ...covered },
      areaMm2: wettedMm2,
      method: 'built from shapes',
    };
  }
  const areaMm2 = good.areaMm2 ?? 1000;
  return {
    facts: {
      kind: 'typed',
      areaMm2,
      electricalAreaMm2: null,
      volumeMm3: null,
      origin: 'customer’s drawing',
      ...covered,
    },
    areaMm2,
    method: 'typed: customer’s drawing',
  };
}

const areasOf = (features: ReturnType<typeof feature>[]) => ({
  wettedMm2: features.reduce((sum, { shape }) => sum + shapeArea(shape as never).areaMm2, 0),
});

async function meshGeometry(db: Db, good: Good, of: { estimatorId: number; since: Date }) {
  const bytes = boxStl({ x: good.boxMm[0], y: good.boxMm[1], z: good.boxMm[2] });
  const measured = meshMeasure(readStl(bytes));
  const file = await db.prisma.file.create({
    data: {
      name: `${good.number}.stl`,
      mediaType: 'model/stl',
      sizeBytes: bytes.length,
      sha256: Uint8Array.from(createHash('sha256').update(bytes).digest()),
      createdById: of.estimatorId,
      createdAt: of.since,
      attachedAt: of.since,
      chunks: { create: [{ seq: 0, bytes: Uint8Array.from(bytes) }] },
    },
  });
  const result = {
    area: measured.areaMm2,
    volume: measured.volumeMm3,
    size: { x: good.boxMm[0], y: good.boxMm[1], z: good.boxMm[2] },
    facets: 12,
    skipped: 0,
    bodies: 1,
    closed: true,
    openEdges: 0,
    insideOut: false,
    warnings: [],
  };
  const measurement = await db.prisma.measurement.create({
    data: {
      fileId: file.id,
      unit: 'mm',
      status: 'done',
      progress: 1,
      result,
      createdById: of.estimatorId,
      createdAt: of.since,
    },
  });
  const facts: Geometry = {
    kind: 'mesh',
    measurementId: measurement.id,
    unit: 'mm',
    shadowedMm2: 0,
    ...covered,
  };
  return { facts, areaMm2: measured.areaMm2, method: `measured from ${file.name}` };
}

/** A closed box as a binary STL, the corners in millimetres. */
function boxStl(of: { x: number; y: number; z: number }): Uint8Array {
  const { x, y, z } = of;
  const corner = (index: number): [number, number, number] => [
    index & 1 ? x : 0,
    index & 2 ? y : 0,
    index & 4 ? z : 0,
  ];
  const quads = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ] as const;
  const triangles = quads.flatMap(
    ([a, b, c, d]) =>
      [
        [a, b, c],
        [a, c, d],
      ] as const,
  );
  const bytes = new Uint8Array(84 + 50 * triangles.length);
  const view = new DataView(bytes.buffer);
  view.setUint32(80, triangles.length, true);
  triangles.forEach((triangle, at) => {
    triangle.forEach((index, vertex) => {
      corner(index).forEach((value, axis) =>
        view.setFloat32(84 + 50 * at + 12 + 12 * vertex + 4 * axis, value, true),
      );
    });
  });
  return bytes;
}
