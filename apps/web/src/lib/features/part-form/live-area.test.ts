import { expect, it } from 'vitest';
import { liveArea } from './live-area.ts';
import { emptyGeometry, type GeometryValues, type ShapesValues } from './part-form.ts';

const nothing = { measure: null, densityKgPerM3: null };
const bar = (dimensions: object): GeometryValues => {
  const shapes = emptyGeometry('shapes') as ShapesValues;
  shapes.features[0] = {
    label: '',
    shape: { kind: 'tube', outerDiameterMm: 25, innerDiameterMm: 21, lengthMm: 90, ...dimensions },
    count: 1,
    subtract: false,
    openings: null,
  };
  return shapes;
};

it('says nothing while something is missing', () => {
  expect(liveArea(emptyGeometry('shapes'), nothing)).toEqual({ state: 'incomplete' });
  expect(liveArea(emptyGeometry('typed'), nothing)).toEqual({ state: 'incomplete' });
  expect(liveArea(emptyGeometry('mesh'), nothing)).toEqual({ state: 'incomplete' });
});

it('computes shapes as they are typed', () => {
  const live = liveArea(bar({}), { measure: null, densityKgPerM3: 4510 });
  // Open tube 25 x 21 x 90: 13295.2201 mm² (shapes table).
  expect(live).toMatchObject({ state: 'known' });
  if (live.state === 'known') expect(live.area.areaMm2).toBeCloseTo(13_295.2201, 4);
});

it('says which shape does not fit, as a person counts', () => {
  expect(liveArea(bar({ innerDiameterMm: 26 }), nothing)).toMatchObject({
    state: 'impossible',
    words: 'shape 1, inner diameter must be less than 25 (outer diameter)',
  });
});

it('takes the measure of a file in the unit chosen', () => {
  const measure = {
    area: 7,
    volume: 1,
    size: { x: 1, y: 2, z: 0.5 },
    facets: 12,
    skipped: 0,
    bodies: 1,
    closed: true,
    openEdges: 0,
    insideOut: false,
    warnings: [],
  };
  const values: GeometryValues = {
    ...emptyGeometry('mesh'),
    kind: 'mesh',
    measurementId: 1,
    unit: 'inch',
    shadowedMm2: 0,
  };
  const live = liveArea(values, { measure, densityKgPerM3: null });
  if (live.state !== 'known') expect.fail(live.state);
  expect(live.area.areaMm2).toBeCloseTo(7 * 645.16, 9);
  expect(live.area.volumeMm3).toBeCloseTo(16_387.064, 9);
});
