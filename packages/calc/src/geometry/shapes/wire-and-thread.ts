import { CalcError } from '../../errors.ts';
import { below, disc, mm, shape } from './shape.ts';

/**
 * Minor diameter of the ISO 68-1 basic profile: d - 2 (5/8) H with H = (√3/2) P, that is d - 1.082532 P.
 */
const minorDiameter = (d: number, P: number): number => d - (5 / 8) * Math.sqrt(3) * P;

/** So that the minor diameter is more than nothing. */
const LARGEST_PITCH = 1 / ((5 / 8) * Math.sqrt(3));

/**
 * Flank, crest and root of a thread of ISO 68-1 basic profile, taken as rings: crest flat P/8 at d, root flat P/4 at d1,
 * two flanks of slant 0.625 P between them; the area over the cylinder of diameter d is 0.75 + 0.875 d1/d. The exact
 * helicoid is 0.04 to 0.11 per cent more for M3 to M20.
 */
function thread(d: number, P: number, L: number): { areaMm2: number; volumeMm3: number; minorMm: number } {
  const d1 = minorDiameter(d, P);
  const flankVolume = (5 / 8) * ((d ** 2 + d * d1 + d1 ** 2) / 3);
  return {
    areaMm2: Math.PI * d * L * (0.75 + (0.875 * d1) / d),
    volumeMm3: (Math.PI / 4) * L * (d ** 2 / 8 + d1 ** 2 / 4 + flankVolume),
    minorMm: d1,
  };
}

const threadParameters = {
  diameterMm: mm('nominal diameter', 'd'),
  pitchMm: mm('pitch', 'P', below('diameterMm', LARGEST_PITCH)),
};

/**
 * The pitch at which a plain square weave of equal round wires jams, in wire diameters: a wire that passes between two
 * neighbours touches both at √3 (Peirce 1937, the geometry of cloth structure; from memory).
 */
const JAMMED_PITCH = Math.sqrt(3);

const meshParameters = {
  faceMm2: { label: 'area of the mesh, openings included', symbol: 'A', unit: 'mm²' as const },
  wireDiameterMm: mm('diameter of the wire', 'd', {
    below: { parameter: 'pitchMm', times: 1 / JAMMED_PITCH, inclusive: true },
  }),
  pitchMm: mm('pitch of the wires', 'p'),
};

/** Two sets of wires at right angles, each wire `crimp` times as long as the mesh. */
function mesh({
  faceMm2,
  crimp,
  pitchMm,
  wireDiameterMm,
}: {
  faceMm2: number;
  wireDiameterMm: number;
  pitchMm: number;
  crimp: number;
}) {
  const lengthMm = (2 * faceMm2 * crimp) / pitchMm;
  return { areaMm2: Math.PI * wireDiameterMm * lengthMm, volumeMm3: disc(wireDiameterMm) * lengthMm };
}

/**
 * Length of a wire over its span when it follows a sine of amplitude d/2. The trapezoid rule on a whole period of a
 * smooth periodic function converges faster than any power: 64 points give every figure.
 */
function crimpOf(d: number, p: number): number {
  const slope = (Math.PI * d) / (2 * p);
  const points = Array.from({ length: 64 }, (_, i) => Math.hypot(1, slope * Math.cos((Math.PI * i) / 64)));
  return points.reduce((sum, length) => sum + length, 0) / points.length;
}

/** Shapes of wire, and threads. */
export const WIRES_AND_THREADS = {
  spring: shape({
    label: 'helical wire spring, cut ends counted',
    formula: 'π d N √((π D)² + p²) + π d²/2',
    note: 'turns may touch and not overlap: the pitch is at least the wire',
    parameters: {
      wireDiameterMm: mm('diameter of the wire', 'd', below('meanDiameterMm')),
      meanDiameterMm: mm('mean diameter of the coil', 'D'),
      pitchMm: mm('pitch of the coil', 'p'),
      coils: { label: 'coils', symbol: 'N', unit: '' },
    },
    measure: ({ wireDiameterMm: d, meanDiameterMm: D, pitchMm: p, coils: N }) => {
      if (p < d) {
        const allowed = `at least ${d}, the diameter of the wire`;
        throw new CalcError({ code: 'impossible', argument: 'pitchMm', given: p, allowed });
      }
      const lengthMm = N * Math.hypot(Math.PI * D, p);
      return { areaMm2: Math.PI * d * lengthMm + 2 * disc(d), volumeMm3: disc(d) * lengthMm };
    },
  }),

  thread: shape({
    label: 'external ISO metric thread, threaded length only',
    formula: 'π d L (0.75 + 0.875 d₁/d), d₁ = d - 1.082532 P',
    note: 'ends not counted; rings of the basic profile, the exact helicoid is about 0.1 % more',
    parameters: { ...threadParameters, lengthMm: mm('threaded length', 'L') },
    measure: ({ diameterMm: d, pitchMm: P, lengthMm: L }) => {
      const { areaMm2, volumeMm3 } = thread(d, P, L);
      return { areaMm2, volumeMm3 };
    },
  }),

  tappedHole: shape({
    label: 'wall of a tapped hole, ISO metric',
    formula: 'π d L (0.75 + 0.875 d₁/d), d₁ = d - 1.082532 P',
    note: 'to be cut out of another shape; its openings have the minor diameter',
    parameters: { ...threadParameters, lengthMm: mm('threaded depth', 'L') },
    measure: ({ diameterMm: d, pitchMm: P, lengthMm: L }) => {
      const { areaMm2, volumeMm3, minorMm } = thread(d, P, L);
      const end = disc(minorMm);
      return {
        areaMm2,
        volumeMm3,
        cut: { wallMm2: areaMm2, depthMm: L, widthMm: minorMm, endsMm2: [end, end] },
      };
    },
  }),

  stud: shape({
    label: 'stud: thread, plain shank and two ends',
    formula: 'π d L (0.75 + 0.875 d₁/d) + π d Lₛ + π d²/2',
    parameters: {
      ...threadParameters,
      threadLengthMm: mm('threaded length', 'L'),
      shankLengthMm: mm('plain length', 'Lₛ', { orZero: true }),
    },
    measure: ({ diameterMm: d, pitchMm: P, threadLengthMm: L, shankLengthMm: Ls }) => {
      const { areaMm2, volumeMm3 } = thread(d, P, L);
      return { areaMm2: areaMm2 + Math.PI * d * Ls + 2 * disc(d), volumeMm3: volumeMm3 + disc(d) * Ls };
    },
  }),

  meshStraight: shape({
    label: 'woven wire mesh, square, wires taken straight',
    formula: '2 π A d/p',
    note: 'a lower estimate',
    parameters: meshParameters,
    measure: (options) => mesh({ ...options, crimp: 1 }),
  }),

  meshCrimped: shape({
    label: 'woven wire mesh, square, wires crimped',
    formula: '2 π A d k/p, k = (1/p) ∫ √(1 + ((π d/2p) cos(π x/p))²) dx',
    note: 'sine crimp of half a wire; contact patches not taken off',
    parameters: meshParameters,
    measure: (options) => mesh({ ...options, crimp: crimpOf(options.wireDiameterMm, options.pitchMm) }),
  }),
};
