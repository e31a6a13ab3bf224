export { type MeshMeasure, meshMeasure } from './mesh/mesh-measure.ts';
export { readStl } from './mesh/read-stl.ts';
export type { StlMesh, Triangles } from './mesh/triangles.ts';
export { type Feature, type FeatureArea, type Joint, type PartArea, partArea } from './part-area.ts';
export { type ShapeArea, shapeArea } from './shape-area.ts';
export { type Box, partBox, shapeBox } from './shape-box.ts';
export { type Shape, SHAPE_KINDS, type ShapeKind, SHAPES } from './shapes/index.ts';
export type { ShapeDefinition, ShapeParameter } from './shapes/shape.ts';
export { type GeometryArea, geometryArea, type PartGeometry } from './geometry-area.ts';
