/** A surface of triangles, nine coordinates a facet: x, y, z of three corners, counter-clockwise seen from outside. */
export interface Triangles {
  coordinates: Float32Array | Float64Array;
}

/** More facets than this in one part are refused: two gigabytes would not hold them. */
export const MOST_FACETS = 10_000_000;

export interface StlMesh extends Triangles {
  facets: number;
  format: 'binary' | 'ascii';
}
