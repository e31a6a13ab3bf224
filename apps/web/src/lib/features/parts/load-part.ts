import { getMeasurement, getPart, listMaterials, type Measurement, type Part } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';

/** The measurement that a part's area rests on, where it rests on one. */
export const measurementOf = ({ geometry }: Part): Promise<Measurement> | null =>
  geometry.kind === 'mesh' ? reading(api(getMeasurement, { params: { id: geometry.measurementId } })) : null;

/** A part as a form needs it: with its measurement, and the materials to choose from, its own always among them. */
export async function partToEdit(id: number) {
  const [part, { items }] = await Promise.all([
    reading(api(getPart, { params: { id } })),
    reading(api(listMaterials, { query: { limit: 200 } })),
  ]);
  const others = items.filter((material) => material.id !== part.material.id);
  return { part, materials: [part.material, ...others], measurement: await measurementOf(part) };
}
