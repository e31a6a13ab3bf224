import { CalcError, geometryArea, type GeometryArea, type PartGeometry } from '@huelot/calc';
import { calculable, Geometry, type FileMeasure } from '@huelot/contracts';
import type { GeometryValues } from './part-form.ts';

/** What can be said of the area while it is typed. */
export type LiveArea =
  | { state: 'known'; area: GeometryArea }
  /** Something is still to be typed. */
  | { state: 'incomplete' }
  /** All is there and does not fit together. */
  | { state: 'impossible'; words: string };

/**
 * The areas of a geometry as it stands on the form, by the rule the server will apply when it is saved.
 *
 * @example
 * liveArea(form.values.geometry, { measure, densityKgPerM3: 4510 })
 */
export function liveArea(
  values: GeometryValues,
  options: { measure: FileMeasure | null; densityKgPerM3: number | null },
): LiveArea {
  const parsed = Geometry.safeParse(values);
  const input = parsed.success ? calculable(parsed.data, options.measure) : null;
  if (input === null) return { state: 'incomplete' };
  try {
    const density = options.densityKgPerM3 === null ? {} : { densityKgPerM3: options.densityKgPerM3 };
    return { state: 'known', area: geometryArea(input as PartGeometry, density) };
  } catch (error) {
    if (!(error instanceof CalcError)) throw error;
    return { state: 'impossible', words: inWords(error) };
  }
}

/** `features[1].shape.innerDiameterMm must be less than 9` as a person counts and reads it. */
function inWords({ argument, rule }: CalcError): string {
  const [, at, name] = /^(?:features|joints)\[(\d+)\]\.(?:shape\.)?(.*)$/.exec(argument) ?? [];
  const field = (name ?? argument)
    .replace(/(Mm2?|Mm3|Factor)$/, '')
    .replace(/([A-Z])/g, ' $1')
    .toLowerCase();
  const where =
    at === undefined
      ? field
      : `${argument.startsWith('joints') ? 'joint' : 'shape'} ${Number(at) + 1}, ${field}`;
  return `${where} ${rule}`;
}
