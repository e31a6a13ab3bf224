import {
  across,
  arc,
  centreLine,
  cross,
  line,
  outline,
  rectangle,
  ring,
  upright,
  value,
  view,
  type Dimensions,
  type Draw,
  type View,
  type XY,
} from './drawing.ts';

const plate: Draw = (dimensions) => {
  const [L, W, T] = [
    value(dimensions, 'lengthMm'),
    value(dimensions, 'widthMm'),
    value(dimensions, 'thicknessMm'),
  ];
  return [
    view({
      strokes: [rectangle({ width: L, height: W })],
      dimensions: [
        across('lengthMm', { from: 0, to: L, y: W }),
        upright('widthMm', { from: 0, to: W, x: 0 }),
      ],
    }),
    view({
      strokes: [rectangle({ width: T, height: W })],
      dimensions: [across('thicknessMm', { from: 0, to: T, y: W })],
    }),
  ];
};

/** A blade from its side and in section; without an edge thickness it is a wedge. */
const blade: Draw = (dimensions) => {
  const [L, H, T, t] = [
    value(dimensions, 'lengthMm'),
    value(dimensions, 'heightMm'),
    value(dimensions, 'spineMm'),
    value(dimensions, 'edgeMm'),
  ];
  const section: XY[] = [
    [-T / 2, 0],
    [T / 2, 0],
    [t / 2, H],
    [-t / 2, H],
  ];
  return [
    view({
      strokes: [rectangle({ width: L, height: H })],
      dimensions: [
        across('lengthMm', { from: 0, to: L, y: H }),
        upright('heightMm', { from: 0, to: H, x: 0 }),
      ],
    }),
    view({
      strokes: [outline(section, 'cut')],
      dimensions: [
        across('spineMm', { from: -T / 2, to: T / 2, y: 0, above: true }),
        ...(t > 0 ? [across('edgeMm', { from: -t / 2, to: t / 2, y: H })] : []),
      ],
    }),
  ];
};

/** The section is not known, only its girth and area: a rectangle of both stands for it, or a circle where none has. */
const extrusion: Draw = (dimensions) => {
  const [U, F, L] = [
    value(dimensions, 'perimeterMm'),
    value(dimensions, 'sectionMm2'),
    value(dimensions, 'lengthMm'),
  ];
  const root = (U / 4) ** 2 - F;
  const [width, height] =
    root > 0
      ? [U / 4 - Math.sqrt(root), U / 4 + Math.sqrt(root)]
      : [2 * Math.sqrt(F / Math.PI), 2 * Math.sqrt(F / Math.PI)];
  const section: View =
    root > 0
      ? view({ strokes: [rectangle({ width, height, look: 'cut' })] })
      : view({ rings: [ring(width, 'cut', [width / 2, height / 2])] });
  return [
    section,
    view({
      strokes: [rectangle({ width: L, height })],
      dimensions: [across('lengthMm', { from: 0, to: L, y: height })],
    }),
  ];
};

const hexBar: Draw = (dimensions) => {
  const [s, L] = [value(dimensions, 'acrossFlatsMm'), value(dimensions, 'lengthMm')];
  const corner = s / Math.sqrt(3);
  const section = Array.from({ length: 6 }, (_, index): XY => {
    const angle = (index * Math.PI) / 3;
    return [corner * Math.cos(angle), corner * Math.sin(angle)];
  });
  return [
    view({
      strokes: [outline(section, 'cut')],
      dimensions: [upright('acrossFlatsMm', { from: -s / 2, to: s / 2, x: -corner })],
    }),
    view({
      strokes: [
        rectangle({ at: [0, -s / 2], width: L, height: s }),
        line([
          [0, 0],
          [L, 0],
        ]),
      ],
      dimensions: [across('lengthMm', { from: 0, to: L, y: s / 2 })],
    }),
  ];
};

const bar: Draw = (dimensions) => {
  const [d, L] = [value(dimensions, 'diameterMm'), value(dimensions, 'lengthMm')];
  return [
    view({
      rings: [ring(d)],
      strokes: cross(d),
      dimensions: [upright('diameterMm', { from: -d / 2, to: d / 2, x: -d / 2 })],
    }),
    view({
      strokes: [rectangle({ at: [0, -d / 2], width: L, height: d }), centreLine([0, 0], [L, 0])],
      dimensions: [across('lengthMm', { from: 0, to: L, y: d / 2 })],
    }),
  ];
};

/** A body of revolution that narrows from `low` at its base to `high` at its top. */
function taper(input: { low: string; high?: string; dimensions: Dimensions }): View[] {
  const { dimensions } = input;
  const [D, d, h] = [
    value(dimensions, input.low),
    input.high === undefined ? 0 : value(dimensions, input.high),
    value(dimensions, 'heightMm'),
  ];
  return [
    view({
      strokes: [
        outline([
          [-d / 2, 0],
          [d / 2, 0],
          [D / 2, h],
          [-D / 2, h],
        ]),
        centreLine([0, 0], [0, h]),
      ],
      dimensions: [
        across(input.low, { from: -D / 2, to: D / 2, y: h }),
        ...(input.high === undefined
          ? []
          : [across(input.high, { from: -d / 2, to: d / 2, y: 0, above: true })]),
        upright('heightMm', { from: 0, to: h, x: -D / 2 }),
      ],
    }),
  ];
}

const sphere: Draw = (dimensions) => {
  const d = value(dimensions, 'diameterMm');
  return [
    view({
      rings: [ring(d)],
      strokes: cross(d),
      dimensions: [across('diameterMm', { from: -d / 2, to: d / 2, y: d / 2 })],
    }),
  ];
};

/** A cap on the sphere it belongs to; the base is drawn full where it counts. */
function cap(dimensions: Dimensions, baseCounts: boolean): View[] {
  const [R, h] = [value(dimensions, 'sphereRadiusMm'), value(dimensions, 'heightMm')];
  const half = Math.acos(Math.max(-1, Math.min(1, (R - h) / R)));
  const top = arc({ at: [0, 0], radius: R, from: -Math.PI / 2 - half, to: -Math.PI / 2 + half });
  const x = R * Math.sin(half);
  const base: XY[] = [
    [-x, h - R],
    [x, h - R],
  ];
  return [
    view({
      rings: [ring(2 * R, 'hidden')],
      strokes: [line(top), line(base, baseCounts ? 'outline' : 'hidden'), ...cross(R / 4)],
      dimensions: [
        upright('heightMm', { from: -R, to: h - R, x: -R }),
        across('sphereRadiusMm', { from: 0, to: R, y: R }),
      ],
    }),
  ];
}

const torus: Draw = (dimensions) => {
  const [D, d] = [value(dimensions, 'meanDiameterMm'), value(dimensions, 'sectionDiameterMm')];
  return [
    view({
      rings: [ring(D + d), ring(D - d), ring(D, 'centre')],
      dimensions: [across('meanDiameterMm', { from: -D / 2, to: D / 2, y: (D + d) / 2 })],
    }),
    view({
      rings: [ring(d, 'cut', [0, -D / 2]), ring(d, 'cut', [0, D / 2])],
      strokes: [centreLine([0, -D / 2], [0, D / 2])],
      dimensions: [across('sectionDiameterMm', { from: -d / 2, to: d / 2, y: (D + d) / 2 })],
    }),
  ];
};

const capsule: Draw = (dimensions) => {
  const [d, L] = [value(dimensions, 'diameterMm'), value(dimensions, 'lengthMm')];
  const [quarter, r] = [Math.PI / 2, d / 2];
  return [
    view({
      strokes: [
        outline([
          ...arc({ at: [0, 0], radius: r, from: quarter, to: 3 * quarter }),
          ...arc({ at: [L, 0], radius: r, from: -quarter, to: quarter }),
        ]),
        centreLine([-r, 0], [L + r, 0]),
      ],
      dimensions: [
        ...(L > 0 ? [across('lengthMm', { from: 0, to: L, y: r })] : []),
        upright('diameterMm', { from: -r, to: r, x: -r }),
      ],
    }),
  ];
};

export const solids = {
  plate,
  blade,
  wedge: blade,
  extrusion,
  hexBar,
  bar,
  cone: (dimensions: Dimensions) => taper({ low: 'diameterMm', dimensions: dimensions }),
  frustum: (dimensions: Dimensions) =>
    taper({ low: 'largeDiameterMm', high: 'smallDiameterMm', dimensions: dimensions }),
  sphere,
  cap: (dimensions: Dimensions) => cap(dimensions, false),
  capClosed: (dimensions: Dimensions) => cap(dimensions, true),
  torus,
  capsule,
} satisfies Record<string, Draw>;
