import { CalcError, geometryArea, type GeometryArea, type PartGeometry } from '@huelot/calc';
import { inMillimetres, type FileMeasure, type Geometry } from '@huelot/contracts';
import { invalid } from '../../refusal.ts';

/** A measure of the file a mesh geometry rests on, with the file's name. */
export interface MeasuredFile {
  name: string;
  result: FileMeasure;
}

/**
 * Areas, volume and mass of a geometry as it crosses the wire, by the same rule that showed them in the browser. A fault
 * is refused by the name of the field on the form.
 */
export function areasOf(
  geometry: Geometry,
  more: { measured: MeasuredFile | null; densityKgPerM3: number },
): GeometryArea {
  try {
    return geometryArea(calculable(geometry, more.measured), more);
  } catch (error) {
    if (!(error instanceof CalcError)) throw error;
    // `features[1].shape.diameterMm` there is `geometry.features.1.shape.diameterMm` here.
    const path = `geometry.${error.argument.replace(/\[(\d+)\]/g, '.$1')}`;
    throw invalid(path, `is ${String(error.given)}; allowed: ${error.allowed}`);
  }
}

function calculable(geometry: Geometry, measured: MeasuredFile | null): PartGeometry {
  switch (geometry.kind) {
    case 'typed':
      return geometry;
    case 'shapes':
      // Which dimensions a shape has is for the calculation to check, and it does.
      return {
        ...geometry,
        features: geometry.features.map(({ openings, ...feature }) => ({
          ...feature,
          openings: openings ?? undefined,
        })),
      } as unknown as PartGeometry;
    case 'mesh': {
      if (measured === null) throw invalid('geometry.measurementId', 'has no result');
      return { ...geometry, ...inMillimetres(measured.result, geometry.unit) };
    }
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
    case 'mesh':
      return `measured from ${measured?.name ?? 'a file'}, one unit being one ${geometry.unit}`;
  }
}
