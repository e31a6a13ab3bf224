import { CalcError, geometryArea, type GeometryArea, type PartGeometry } from '@huelot/calc';
import { calculable, type FileMeasure, type Geometry } from '@huelot/contracts';
import { fieldError } from '../../kernel/refusal.ts';

/** A measure of the file a mesh geometry rests on, with the file's name. */
export interface MeasuredFile {
  name: string;
  /** A STEP file does; of an STL somebody had to say it. */
  saysItsUnit: boolean;
  result: FileMeasure;
}

/**
 * Areas, volume and mass of a geometry as it crosses the wire, by the same rule that showed them in the browser. A fault
 * is refused by the name of the field on the form.
 */
export function areasOf(
  geometry: Geometry,
  extra: { measured: MeasuredFile | null; densityKgPerM3: number },
): GeometryArea {
  const input = calculable(geometry, extra.measured?.result ?? null);
  if (input === null) throw fieldError('geometry.measurementId', 'has no result');
  try {
    // Which dimensions a shape has is for the calculation to check, and it does.
    return geometryArea(input as PartGeometry, extra);
  } catch (error) {
    if (!(error instanceof CalcError)) throw error;
    // `features[1].shape.diameterMm` there is `geometry.features.1.shape.diameterMm` here.
    throw fieldError(`geometry.${error.path}`, error.rule);
  }
}

/** How the area was found, as it stands beside the figure. */
export function methodOf(geometry: Geometry, measured: MeasuredFile | null): string {
  switch (geometry.kind) {
    case 'typed':
      return `typed: ${geometry.origin}`;
    case 'shapes': {
      const { length } = geometry.features;
      return `built from ${length === 1 ? 'one shape' : `${length} shapes`}`;
    }
    case 'mesh': {
      const name = measured?.name ?? 'a file';
      const unit = measured?.saysItsUnit === true ? '' : `, one unit being one ${geometry.unit}`;
      return `measured from ${name}${unit}`;
    }
  }
}
