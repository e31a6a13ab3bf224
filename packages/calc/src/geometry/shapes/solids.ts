import { CalcError } from '../../errors.ts';
import { below, disc, mm, shape } from './shape.ts';

/** Flat-sided and solid round shapes. */
export const SOLIDS = {
  plate: shape({
    label: 'flat plate with edges',
    formula: '2 (L W + L T + W T)',
    parameters: { lengthMm: mm('length', 'L'), widthMm: mm('width', 'W'), thicknessMm: mm('thickness', 'T') },
    measure: ({ lengthMm: L, widthMm: W, thicknessMm: T }) => ({
      areaMm2: 2 * (L * W + L * T + W * T),
      volumeMm3: L * W * T,
    }),
  }),

  blade: shape({
    label: 'blade of trapezoid section',
    formula: '2 L √(H² + ((T - t)/2)²) + L (T + t) + (T + t) H',
    parameters: {
      lengthMm: mm('length', 'L'),
      heightMm: mm('height from spine to edge', 'H'),
      spineMm: mm('thickness of the spine', 'T'),
      edgeMm: mm('thickness of the edge', 't', { orZero: true }),
    },
    measure: ({ lengthMm: L, heightMm: H, spineMm: T, edgeMm: t }) => ({
      areaMm2: 2 * L * Math.hypot(H, (T - t) / 2) + L * (T + t) + (T + t) * H,
      volumeMm3: (L * H * (T + t)) / 2,
    }),
  }),

  wedge: shape({
    label: 'sharp wedge',
    formula: '2 L √(H² + (T/2)²) + L T + T H',
    parameters: {
      lengthMm: mm('length', 'L'),
      heightMm: mm('height from spine to edge', 'H'),
      spineMm: mm('thickness of the spine', 'T'),
    },
    measure: ({ lengthMm: L, heightMm: H, spineMm: T }) => ({
      areaMm2: 2 * L * Math.hypot(H, T / 2) + L * T + T * H,
      volumeMm3: (L * H * T) / 2,
    }),
  }),

  extrusion: shape({
    label: 'any constant section',
    formula: 'U L + 2 F',
    parameters: {
      perimeterMm: mm('perimeter of the section', 'U'),
      sectionMm2: { label: 'area of the section', symbol: 'F', unit: 'mm²' },
      lengthMm: mm('length', 'L'),
    },
    measure: ({ perimeterMm: U, sectionMm2: F, lengthMm: L }) => {
      const least = 2 * Math.sqrt(Math.PI * F);
      if (U < least * (1 - 1e-9)) {
        const allowed = `at least ${least.toFixed(3)}: no section of ${F} mm² has a shorter perimeter than a circle`;
        throw new CalcError({ code: 'impossible', argument: 'perimeterMm', given: U, allowed });
      }
      return {
        areaMm2: U * L + 2 * F,
        volumeMm3: F * L,
        cut: { wallMm2: U * L, depthMm: L, widthMm: (4 * F) / U, endsMm2: [F, F] },
      };
    },
  }),

  hexBar: shape({
    label: 'hexagon bar with ends',
    formula: '2 √3 s L + √3 s²',
    parameters: { acrossFlatsMm: mm('width across flats', 's'), lengthMm: mm('length', 'L') },
    measure: ({ acrossFlatsMm: s, lengthMm: L }) => {
      const end = (Math.sqrt(3) / 2) * s ** 2;
      const wallMm2 = 2 * Math.sqrt(3) * s * L;
      return {
        areaMm2: wallMm2 + 2 * end,
        volumeMm3: end * L,
        cut: { wallMm2, depthMm: L, widthMm: s, endsMm2: [end, end] },
      };
    },
  }),

  bar: shape({
    label: 'round bar with ends',
    formula: 'π d L + π d²/2',
    parameters: { diameterMm: mm('diameter', 'd'), lengthMm: mm('length', 'L') },
    measure: ({ diameterMm: d, lengthMm: L }) => ({
      areaMm2: Math.PI * d * L + 2 * disc(d),
      volumeMm3: disc(d) * L,
      cut: { wallMm2: Math.PI * d * L, depthMm: L, widthMm: d, endsMm2: [disc(d), disc(d)] },
    }),
  }),

  cone: shape({
    label: 'closed right cone',
    formula: 'π r √(r² + h²) + π r², r = d/2',
    parameters: { diameterMm: mm('diameter of the base', 'd'), heightMm: mm('height', 'h') },
    measure: ({ diameterMm: d, heightMm: h }) => {
      const wallMm2 = (Math.PI * d * Math.hypot(d / 2, h)) / 2;
      return {
        areaMm2: wallMm2 + disc(d),
        volumeMm3: (disc(d) * h) / 3,
        cut: { wallMm2, depthMm: h, widthMm: d, endsMm2: [disc(d)] },
      };
    },
  }),

  frustum: shape({
    label: 'closed frustum of a cone',
    formula: 'π (R + r) √((R - r)² + h²) + π (R² + r²), R = D/2, r = d/2',
    parameters: {
      largeDiameterMm: mm('large diameter', 'D'),
      smallDiameterMm: mm('small diameter', 'd', {
        below: { parameter: 'largeDiameterMm', inclusive: true },
      }),
      heightMm: mm('height', 'h'),
    },
    measure: ({ largeDiameterMm: D, smallDiameterMm: d, heightMm: h }) => {
      const wallMm2 = (Math.PI * (D + d) * Math.hypot((D - d) / 2, h)) / 2;
      return {
        areaMm2: wallMm2 + disc(D) + disc(d),
        volumeMm3: (Math.PI * h * (D ** 2 + D * d + d ** 2)) / 12,
        cut: { wallMm2, depthMm: h, widthMm: (D + d) / 2, endsMm2: [disc(D), disc(d)] },
      };
    },
  }),

  sphere: shape({
    label: 'sphere',
    formula: 'π d²',
    parameters: { diameterMm: mm('diameter', 'd') },
    measure: ({ diameterMm: d }) => ({ areaMm2: Math.PI * d ** 2, volumeMm3: (Math.PI * d ** 3) / 6 }),
  }),

  cap: shape({
    label: 'spherical cap, curved part only',
    formula: '2 π R h',
    parameters: {
      sphereRadiusMm: mm('radius of the sphere', 'R'),
      heightMm: mm('height', 'h', { below: { parameter: 'sphereRadiusMm', times: 2, inclusive: true } }),
    },
    measure: ({ sphereRadiusMm: R, heightMm: h }) => capOf(R, h, 0),
  }),

  capClosed: shape({
    label: 'spherical cap with flat base',
    formula: '2 π R h + π h (2 R - h)',
    parameters: {
      sphereRadiusMm: mm('radius of the sphere', 'R'),
      heightMm: mm('height', 'h', { below: { parameter: 'sphereRadiusMm', times: 2, inclusive: true } }),
    },
    measure: ({ sphereRadiusMm: R, heightMm: h }) => capOf(R, h, Math.PI * h * (2 * R - h)),
  }),

  torus: shape({
    label: 'ring of round section',
    formula: 'π² D d',
    parameters: {
      meanDiameterMm: mm('mean diameter of the ring', 'D'),
      sectionDiameterMm: mm('diameter of the section', 'd', below('meanDiameterMm')),
    },
    measure: ({ meanDiameterMm: D, sectionDiameterMm: d }) => ({
      areaMm2: Math.PI ** 2 * D * d,
      volumeMm3: Math.PI * D * disc(d),
    }),
  }),

  capsule: shape({
    label: 'cylinder with two hemispherical ends',
    formula: 'π d L + π d²',
    parameters: { diameterMm: mm('diameter', 'd'), lengthMm: mm('straight length', 'L', { orZero: true }) },
    measure: ({ diameterMm: d, lengthMm: L }) => ({
      areaMm2: Math.PI * d * (L + d),
      volumeMm3: disc(d) * L + (Math.PI * d ** 3) / 6,
    }),
  }),
};

const capOf = (R: number, h: number, countedBaseMm2: number) => {
  const wallMm2 = 2 * Math.PI * R * h;
  const base = Math.PI * h * (2 * R - h);
  return {
    areaMm2: wallMm2 + countedBaseMm2,
    volumeMm3: (Math.PI * h ** 2 * (3 * R - h)) / 3,
    cut: { wallMm2, depthMm: h, widthMm: 2 * Math.sqrt(base / Math.PI), endsMm2: [base] },
  };
};
