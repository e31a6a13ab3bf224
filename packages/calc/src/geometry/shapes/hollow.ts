import { CalcError } from '../../errors.ts';
import { below, disc, mm, shape, unreachedShare } from './shape.ts';

const tubeParameters = {
  outerDiameterMm: mm('outer diameter', 'D'),
  innerDiameterMm: mm('inner diameter', 'd', below('outerDiameterMm')),
  lengthMm: mm('length', 'L'),
};

/** A wall of a bore open at both ends, and the part of it that current does not reach. */
function through(diameterMm: number, depthMm: number): { wallMm2: number; unreachedMm2: number } {
  const wallMm2 = Math.PI * diameterMm * depthMm;
  return { wallMm2, unreachedMm2: wallMm2 * unreachedShare({ depthMm, widthMm: diameterMm, openings: 2 }) };
}

const ring = (D: number, d: number): number => disc(D) - disc(d);

/** Shapes with bores. */
export const HOLLOWS = {
  plateWithHoles: shape({
    label: 'plate with round through-holes',
    formula: '2 (L W + L T + W T) + n (π d T - π d²/2)',
    note: 'a hole adds its wall and takes two discs away; the two cancel at d = 2 T',
    parameters: {
      lengthMm: mm('length', 'L'),
      widthMm: mm('width', 'W'),
      thicknessMm: mm('thickness', 'T'),
      holeCount: { label: 'holes', symbol: 'n', unit: '', whole: true, orZero: true },
      holeDiameterMm: mm('diameter of the holes', 'd', below('widthMm')),
    },
    measure: ({ lengthMm: L, widthMm: W, thicknessMm: T, holeCount: n, holeDiameterMm: d }) => {
      if (n * disc(d) >= L * W) {
        const allowed = `holes that leave something of a face of ${L * W} mm²`;
        throw new CalcError({ code: 'impossible', argument: 'holeCount', given: n, allowed });
      }
      const { wallMm2, unreachedMm2 } = through(d, T);
      return {
        areaMm2: 2 * (L * W + L * T + W * T) + n * (wallMm2 - 2 * disc(d)),
        volumeMm3: (L * W - n * disc(d)) * T,
        unreachedMm2: n * unreachedMm2,
      };
    },
  }),

  tube: shape({
    label: 'open tube, inside and outside, with end rings',
    formula: 'π (D + d) L + π (D² - d²)/2',
    parameters: tubeParameters,
    measure: ({ outerDiameterMm: D, innerDiameterMm: d, lengthMm: L }) => {
      const { wallMm2, unreachedMm2 } = through(d, L);
      return {
        areaMm2: Math.PI * D * L + wallMm2 + 2 * ring(D, d),
        volumeMm3: ring(D, d) * L,
        unreachedMm2,
      };
    },
  }),

  tubeOuter: shape({
    label: 'tube, outside only, with end rings',
    formula: 'π D L + π (D² - d²)/2',
    note: 'the bore is plugged or masked',
    parameters: tubeParameters,
    measure: ({ outerDiameterMm: D, innerDiameterMm: d, lengthMm: L }) => ({
      areaMm2: Math.PI * D * L + 2 * ring(D, d),
      volumeMm3: ring(D, d) * L,
    }),
  }),

  washer: shape({
    label: 'flat ring',
    formula: 'π (D + d) h + π (D² - d²)/2',
    parameters: {
      outerDiameterMm: mm('outer diameter', 'D'),
      innerDiameterMm: mm('inner diameter', 'd', below('outerDiameterMm')),
      thicknessMm: mm('thickness', 'h'),
    },
    measure: ({ outerDiameterMm: D, innerDiameterMm: d, thicknessMm: h }) => {
      const { wallMm2, unreachedMm2 } = through(d, h);
      return {
        areaMm2: Math.PI * D * h + wallMm2 + 2 * ring(D, d),
        volumeMm3: ring(D, d) * h,
        unreachedMm2,
      };
    },
  }),

  cup: shape({
    label: 'blind cup',
    formula: 'π D H + π d (H - f) + π D²/2',
    note: 'outer wall, inner wall, both sides of the floor and the rim',
    parameters: {
      outerDiameterMm: mm('outer diameter', 'D'),
      innerDiameterMm: mm('inner diameter', 'd', below('outerDiameterMm')),
      heightMm: mm('outer height', 'H'),
      floorMm: mm('thickness of the floor', 'f', below('heightMm')),
    },
    measure: ({ outerDiameterMm: D, innerDiameterMm: d, heightMm: H, floorMm: f }) => {
      const depthMm = H - f;
      const innerWall = Math.PI * d * depthMm;
      const unreached = unreachedShare({ depthMm, widthMm: d, openings: 1 });
      return {
        areaMm2: Math.PI * D * H + innerWall + 2 * disc(D),
        volumeMm3: disc(D) * H - disc(d) * depthMm,
        unreachedMm2: innerWall * unreached + (unreached > 0 ? disc(d) : 0),
      };
    },
  }),

  perforatedSquare: shape({
    label: 'perforated sheet, square pitch, without outer edges',
    formula: 'A (2 (1 - π d²/(4 p²)) + π d t/p²)',
    note: 'both faces and the walls of the holes',
    parameters: perforatedParameters(),
    measure: (options) => perforated({ ...options, cellMm2: options.pitchMm ** 2 }),
  }),

  perforatedStaggered: shape({
    label: 'perforated sheet, 60° staggered pitch, without outer edges',
    formula: 'A (2 (1 - π d²/(4 c)) + π d t/c), c = (√3/2) p²',
    note: 'both faces and the walls of the holes',
    parameters: perforatedParameters(),
    measure: (options) => perforated({ ...options, cellMm2: (Math.sqrt(3) / 2) * options.pitchMm ** 2 }),
  }),
};

function perforatedParameters() {
  return {
    faceMm2: { label: 'area of one face, holes included', symbol: 'A', unit: 'mm²' as const },
    thicknessMm: mm('thickness', 't'),
    holeDiameterMm: mm('diameter of the holes', 'd', below('pitchMm')),
    pitchMm: mm('pitch', 'p'),
  };
}

function perforated({
  faceMm2,
  thicknessMm,
  holeDiameterMm,
  cellMm2,
}: {
  faceMm2: number;
  thicknessMm: number;
  holeDiameterMm: number;
  cellMm2: number;
}) {
  const holes = faceMm2 / cellMm2;
  const { wallMm2, unreachedMm2 } = through(holeDiameterMm, thicknessMm);
  const openMm2 = holes * disc(holeDiameterMm);
  return {
    areaMm2: 2 * (faceMm2 - openMm2) + holes * wallMm2,
    volumeMm3: (faceMm2 - openMm2) * thicknessMm,
    unreachedMm2: holes * unreachedMm2,
  };
}
