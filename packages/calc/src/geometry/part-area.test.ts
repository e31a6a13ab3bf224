import { describe, expect, it } from 'vitest';
import { type Feature, type Joint, partArea, shapeArea } from './index.ts';

const plate: Feature = { shape: { kind: 'plate', lengthMm: 100, widthMm: 50, thicknessMm: 5 } };
const hole = (extra: Partial<Feature> = {}): Feature => ({
  shape: { kind: 'bar', diameterMm: 8, lengthMm: 5 },
  subtract: true,
  ...extra,
});

describe('features', () => {
  it('a plate with six bars cut out is the plate with six holes', () => {
    const built = partArea({ features: [plate, hole({ count: 6 })] });
    const whole = shapeArea({
      kind: 'plateWithHoles',
      lengthMm: 100,
      widthMm: 50,
      thicknessMm: 5,
      holeCount: 6,
      holeDiameterMm: 8,
    });
    expect(built.areaMm2).toBeCloseTo(whole.areaMm2, 9);
    expect(built.volumeMm3).toBeCloseTo(whole.volumeMm3, 9);
    expect(built.electricalAreaMm2).toBeCloseTo(whole.electricalAreaMm2, 9);
  });

  it('a bar with a blind bore is the cup', () => {
    const built = partArea({
      features: [
        { shape: { kind: 'bar', diameterMm: 30, lengthMm: 40 } },
        { shape: { kind: 'bar', diameterMm: 26, lengthMm: 38 }, subtract: true, openings: 1 },
      ],
    });
    const cup = shapeArea({
      kind: 'cup',
      outerDiameterMm: 30,
      innerDiameterMm: 26,
      heightMm: 40,
      floorMm: 2,
    });
    expect(built.areaMm2).toBeCloseTo(cup.areaMm2, 9);
    expect(built.volumeMm3).toBeCloseTo(cup.volumeMm3, 9);
    expect(built.electricalAreaMm2).toBeCloseTo(cup.electricalAreaMm2, 9);
  });

  it.each<[string, Feature, number]>([
    ['blind hole: wall only, floor for opening', hole({ openings: 1 }), 40 * Math.PI],
    ['through-hole: wall less two discs', hole(), (40 - 32) * Math.PI],
    [
      'countersink: slope less its base',
      { shape: { kind: 'cone', diameterMm: 6, heightMm: 4 }, subtract: true },
      (15 - 9) * Math.PI,
    ],
    [
      'dimple: curve less its base',
      { shape: { kind: 'cap', sphereRadiusMm: 5, heightMm: 1 }, subtract: true },
      (10 - 9) * Math.PI,
    ],
    [
      'stepped hole: the small end is the floor',
      {
        shape: { kind: 'frustum', largeDiameterMm: 6, smallDiameterMm: 2, heightMm: 2 },
        subtract: true,
        openings: 1,
      },
      (4 * Math.hypot(2, 2) + 1 - 9) * Math.PI,
    ],
    [
      'tapped hole, through: thread less two discs of its minor diameter',
      { shape: { kind: 'tappedHole', diameterMm: 6, pitchMm: 1, lengthMm: 5 }, subtract: true },
      553.0953 / 4 - (Math.PI / 2) * 4.91747 ** 2,
    ],
    [
      'rectangular window 10 × 4',
      { shape: { kind: 'extrusion', perimeterMm: 28, sectionMm2: 40, lengthMm: 5 }, subtract: true },
      140 - 80,
    ],
  ])('%s', (_, feature, change) => {
    const { features, areaMm2 } = partArea({ features: [plate, feature] });
    expect(features[1]?.areaMm2).toBeCloseTo(change, 3);
    expect(areaMm2).toBeCloseTo(11_500 + change, 3);
  });

  it('a deep blind bore keeps current from its floor and lower wall', () => {
    const { features } = partArea({
      features: [
        { shape: { kind: 'bar', diameterMm: 30, lengthMm: 60 } },
        hole({ shape: { kind: 'bar', diameterMm: 10, lengthMm: 40 }, openings: 1 }),
      ],
    });
    expect(features[1]?.areaMm2).toBeCloseTo(400 * Math.PI, 9);
    expect(features[1]?.electricalAreaMm2).toBeCloseTo((100 - 25) * Math.PI, 9);
  });
});

describe('joints take their patch off both', () => {
  const boss: Feature = { shape: { kind: 'bar', diameterMm: 10, lengthMm: 20 } };

  it.each<[string, Joint, number]>([
    ['a disc', { diameterMm: 10 }, 50 * Math.PI],
    ['a rectangle', { lengthMm: 5, widthMm: 4 }, 40],
    ['an area, twice', { areaMm2: 7, count: 2 }, 28],
  ])('%s', (_, joint, off) => {
    const { areaMm2, jointsMm2, volumeMm3 } = partArea({ features: [plate, boss], joints: [joint] });
    expect(jointsMm2).toBeCloseTo(off, 9);
    expect(areaMm2).toBeCloseTo(11_500 + 250 * Math.PI - off, 9);
    expect(volumeMm3).toBeCloseTo(25_000 + 500 * Math.PI, 9);
  });

  it('two plates laid together are the plate of double thickness', () => {
    const { areaMm2 } = partArea({
      features: [{ ...plate, count: 2 }],
      joints: [{ lengthMm: 100, widthMm: 50 }],
    });
    expect(areaMm2).toBeCloseTo(
      shapeArea({ kind: 'plate', lengthMm: 100, widthMm: 50, thicknessMm: 10 }).areaMm2,
      9,
    );
  });
});

describe('pitfall: one area for everything', () => {
  const part = partArea({
    features: [{ shape: { kind: 'tube', outerDiameterMm: 25, innerDiameterMm: 21, lengthMm: 90 } }],
    maskedMm2: 1000,
    contactMm2: 20,
    roughnessFactor: 1.5,
    densityKgPerM3: 4510,
  });

  it('wets every face, colours what is not masked, draws current where it reaches', () => {
    const wetted = 13_295.2201;
    const unreached = 21 * 48 * Math.PI;
    expect(part.areaMm2).toBeCloseTo(1.5 * wetted, 3);
    expect(part.coatedAreaMm2).toBeCloseTo(1.5 * (wetted - 1020), 3);
    expect(part.electricalAreaMm2).toBeCloseTo(1.5 * (wetted - unreached - 1020), 3);
    expect(part).toMatchObject({ maskedAreaMm2: 1000, contactAreaMm2: 20 });
    expect(part.massKg).toBeCloseTo(46 * 90 * Math.PI * 1e-9 * 4510, 12);
  });

  it('both faces of a sheet count: one side is a common slip', () => {
    expect(partArea({ features: [plate] }).areaMm2).toBeGreaterThan(2 * 100 * 50);
    expect(partArea({ features: [plate] }).massKg).toBeNull();
  });
});

describe('refusals', () => {
  it.each<[string, Parameters<typeof partArea>[0], string]>([
    ['no feature', { features: [] }, 'features'],
    [
      'a wrong dimension',
      { features: [plate, hole({ shape: { kind: 'bar', diameterMm: -8, lengthMm: 5 } })] },
      'features[1].shape.diameterMm',
    ],
    [
      'a contradiction',
      { features: [{ shape: { kind: 'extrusion', perimeterMm: 1, sectionMm2: 9, lengthMm: 1 } }] },
      'features[0].shape.perimeterMm',
    ],
    ['half a feature', { features: [{ ...plate, count: 0.5 }] }, 'features[0].count'],
    ['a cut without an opening', { features: [plate, hole({ openings: 0 })] }, 'features[1].openings'],
    ['more openings than ends', { features: [plate, hole({ openings: 3 })] }, 'features[1].openings'],
    [
      'a cut by a ball',
      { features: [plate, { shape: { kind: 'sphere', diameterMm: 4 }, subtract: true }] },
      'features[1].subtract',
    ],
    ['a joint larger than the part', { features: [plate], joints: [{ areaMm2: 6000 }] }, 'joints'],
    ['a joint without size', { features: [plate], joints: [{ diameterMm: 0 }] }, 'joints[0].diameterMm'],
    ['nothing but a cut', { features: [hole()] }, 'features'],
    ['more mask than part', { features: [plate], maskedMm2: 11_000, contactMm2: 501 }, 'maskedMm2'],
    ['smoother than smooth', { features: [plate], roughnessFactor: 0.9 }, 'roughnessFactor'],
    ['a density in g/cm³ of lead in kg', { features: [plate], densityKgPerM3: 0 }, 'densityKgPerM3'],
  ])('%s', (...[, given, argument]) => {
    expect(() => partArea(given)).toThrowError(expect.objectContaining({ argument }));
  });
});
