import type { Measurement, Part } from '@huelot/contracts';
import { FormState } from '$lib/forms/form.svelte.ts';
import { Measuring } from './mesh-measurement.svelte.ts';
import type { PartValues } from './part-form.ts';

type Options = ConstructorParameters<typeof FormState<PartValues, Part>>[0];

/**
 * The form of a part together with the model file it may be measured from: a measurement that is done gives the geometry
 * its key and, where the file says it, its unit.
 *
 * @example
 * const { form, measuring } = partEditor({ values, send, done }, data.measurement);
 */
export function partEditor(options: Options, measurement: Measurement | null) {
  const form = new FormState<PartValues, Part>(options);
  const measuring = new Measuring(measurement, ({ id, statedUnit }) => {
    const { geometry } = form.values;
    if (geometry.kind !== 'mesh') return;
    geometry.measurementId = id;
    geometry.unit = statedUnit ?? '';
  });
  return { form, measuring };
}
