import { createPart, type Geometry } from '@huelot/contracts';
import type { Actor } from '../kernel/actor.ts';
import type { Db } from '../db/client.ts';
import { addPart } from '../catalog/parts/index.ts';
import type { Timeline } from './backdate.ts';
import { partData } from './goods.ts';
import { measureBox } from './model-file.ts';
import type { Actors } from './people.ts';
import type { RecipeKey } from './recipe-book.ts';

/** A part of the shop, and the recipe that colours it. */
export interface DemoPart {
  id: number;
  customerId: number;
  recipe: RecipeKey;
  quantities: readonly number[] | null;
}

type Good = (typeof partData)[number];

/** Adds every part of the customers. */
export async function addParts(
  db: Db,
  {
    actors,
    story,
    since,
    customerIds,
    standardIds,
  }: {
    actors: Actors;
    story: Timeline;
    since: number;
    customerIds: readonly number[];
    standardIds: ReadonlyMap<string, number>;
  },
): Promise<DemoPart[]> {
  const actor = actors.edgar;
  const materials = new Map(
    (await db.prisma.material.findMany({ select: { id: true, name: true } })).map(({ id, name }) => [
      name,
      id,
    ]),
  );
  const parts: DemoPart[] = [];
  for (const [index, good] of partData.entries()) {
    const part = await story.at(since + index * 1_800_000, async () => {
      const { customerId, ...facts } = createPart.body.parse({
        ...factsOf(good),
        colourStandardId: standardIds.get(good.standard),
        customerId: customerIds[good.customer],
        materialId: materials.get(good.material),
        geometry: await geometryOf(db, { actor, good }),
      });
      return addPart(db, { actor, customerId, facts });
    });
    const { recipe, quantities = null } = good;
    parts.push({ id: part.id, customerId: part.customer.id, recipe, quantities });
  }
  return parts;
}

function factsOf({ number, revision, description, boxMm, massKg, more }: Good) {
  const [widthMm, heightMm, depthMm] = boxMm;
  return {
    ...{ number, revision, description, widthMm, heightMm, depthMm, massKg },
    massMethod: 'typed',
    conditionReceived: 'clean, as machined',
    specification: '',
    specificationRevision: '',
    significantSurfaces: '',
    contactMarks: '',
    maskingNotes: '',
    maskingFeatures: 0,
    dimensionAllowance: '',
    handling: '',
    notes: '',
    files: [],
    ...more,
  };
}

async function geometryOf(db: Db, { actor, good }: { actor: Actor; good: Good }): Promise<Geometry> {
  const covered = { maskedMm2: 0, contactMm2: 0, roughnessFactor: 1 };
  const { geometry, number, boxMm } = good;
  if (geometry === 'model file') {
    const [x, y, z] = boxMm;
    const { id } = await measureBox(db, { actor, name: `${number}.stl`, box: { x, y, z } });
    return { kind: 'mesh', measurementId: id, unit: 'mm', shadowedMm2: 0, ...covered };
  }
  if ('features' in geometry) return { kind: 'shapes', features: geometry.features, joints: [], ...covered };
  const { areaMm2 } = geometry;
  const origin = 'customer’s drawing';
  return { kind: 'typed', areaMm2, electricalAreaMm2: null, volumeMm3: null, origin, ...covered };
}
