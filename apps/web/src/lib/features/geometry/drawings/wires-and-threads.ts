import {
  across,
  centreLine,
  outline,
  rectangle,
  ring,
  upright,
  value,
  view,
  type Dimensions,
  type Draw,
  type Stroke,
  type View,
  type XY,
} from './drawing.ts';

/** More turns than this would run into one another on a screen. */
const MAX_TURNS = 60;
/** Depth of the ISO 68-1 basic profile over its pitch: (d - d₁) / 2 P. */
const THREAD_DEPTH = 1.082532 / 2;

const spring: Draw = (dimensions) => {
  const [d, D, p, N] = [
    value(dimensions, 'wireDiameterMm'),
    value(dimensions, 'meanDiameterMm'),
    value(dimensions, 'pitchMm'),
    value(dimensions, 'coils'),
  ];
  const turns = Math.min(N, MAX_TURNS);
  const steps = Math.ceil(turns * 24);
  const points = Array.from({ length: steps + 1 }, (_, step): XY => {
    const turn = (turns * step) / steps;
    return [turn * p, (-D / 2) * Math.cos(2 * Math.PI * turn)];
  });
  return [
    view({
      strokes: [{ points, closed: false, look: 'wire', widthMm: d }, centreLine([0, 0], [turns * p, 0])],
      rings: [ring(d, 'outline', [0, -D / 2])],
      dimensions: [
        upright('meanDiameterMm', { from: -D / 2, to: D / 2, x: -d / 2 }),
        across('pitchMm', { from: 0, to: p, y: -D / 2 - d / 2, above: true }),
      ],
    }),
    view({
      rings: [ring(d, 'cut')],
      dimensions: [across('wireDiameterMm', { from: -d / 2, to: d / 2, y: d / 2 })],
    }),
  ];
};

/** The edge of a thread from x = 0 to x = `length` at `y`; `depth` points to the core. */
function teeth({
  length,
  pitch,
  y,
  depth,
}: {
  length: number;
  pitch: number;
  y: number;
  depth: number;
}): XY[] {
  const count = Math.min(Math.floor(length / pitch), MAX_TURNS);
  if (count === 0)
    return [
      [0, y],
      [length, y],
    ];
  const step = length / count;
  const points = Array.from({ length: count }, (_, index): XY[] => {
    const x = index * step;
    // Crest an eighth, root a quarter of the pitch, flanks between.
    return [
      [x, y],
      [x + step / 8, y],
      [x + (step * 7) / 16, y + depth],
      [x + (step * 11) / 16, y + depth],
    ];
  });
  return [...points.flat(), [length, y]];
}

function threadProfile(input: { d: number; P: number; L: number }): XY[] {
  const depth = THREAD_DEPTH * input.P;
  const upper = teeth({ length: input.L, pitch: input.P, y: -input.d / 2, depth });
  const lower = teeth({ length: input.L, pitch: input.P, y: input.d / 2, depth: -depth });
  return [...upper, ...lower.reverse()];
}

const thread: Draw = (dimensions) => {
  const [d, P, L] = [
    value(dimensions, 'diameterMm'),
    value(dimensions, 'pitchMm'),
    value(dimensions, 'lengthMm'),
  ];
  return [
    view({
      strokes: [outline(threadProfile({ d, P, L })), centreLine([0, 0], [L, 0])],
      dimensions: [
        across('lengthMm', { from: 0, to: L, y: d / 2 }),
        upright('diameterMm', { from: -d / 2, to: d / 2, x: 0 }),
        across('pitchMm', { from: 0, to: P, y: -d / 2, above: true }),
      ],
    }),
  ];
};

/** The hole in a block that stands for whatever it is cut into. */
const tappedHole: Draw = (dimensions) => {
  const [d, P, L] = [
    value(dimensions, 'diameterMm'),
    value(dimensions, 'pitchMm'),
    value(dimensions, 'lengthMm'),
  ];
  const depth = THREAD_DEPTH * P;
  const wall = (sign: 1 | -1): Stroke =>
    outline(
      [
        [0, sign * d],
        ...teeth({ length: L, pitch: P, y: (sign * d) / 2, depth: -sign * depth }),
        [L, sign * d],
      ],
      'cut',
    );
  return [
    view({
      strokes: [wall(-1), wall(1), centreLine([0, 0], [L, 0])],
      dimensions: [
        across('lengthMm', { from: 0, to: L, y: d }),
        upright('diameterMm', { from: -d / 2, to: d / 2, x: 0 }),
        across('pitchMm', { from: 0, to: P, y: -d, above: true }),
      ],
    }),
  ];
};

const stud: Draw = (dimensions) => {
  const [d, P, L, shank] = [
    value(dimensions, 'diameterMm'),
    value(dimensions, 'pitchMm'),
    value(dimensions, 'threadLengthMm'),
    value(dimensions, 'shankLengthMm'),
  ];
  return [
    view({
      strokes: [
        outline(threadProfile({ d, P, L })),
        ...(shank > 0 ? [rectangle({ at: [L, -d / 2], width: shank, height: d })] : []),
        centreLine([0, 0], [L + shank, 0]),
      ],
      dimensions: [
        across('threadLengthMm', { from: 0, to: L, y: d / 2 }),
        ...(shank > 0 ? [across('shankLengthMm', { from: L, to: L + shank, y: d / 2 })] : []),
        upright('diameterMm', { from: -d / 2, to: d / 2, x: 0 }),
        across('pitchMm', { from: 0, to: P, y: -d / 2, above: true }),
      ],
    }),
  ];
};

/** A piece of woven mesh, five pitches each way; crimped wires are shown from their edge too. */
function mesh(dimensions: Dimensions, crimped: boolean): View[] {
  const [d, p] = [value(dimensions, 'wireDiameterMm'), value(dimensions, 'pitchMm')];
  const count = 5;
  const size = count * p;
  const wire = (points: XY[]): Stroke => ({ points, closed: false, look: 'wire', widthMm: d });
  const wires = Array.from({ length: count }, (_, index): Stroke[] => {
    const place = (index + 0.5) * p;
    return [
      wire([
        [0, place],
        [size, place],
      ]),
      wire([
        [place, 0],
        [place, size],
      ]),
    ];
  }).flat();
  const face = view({
    strokes: wires,
    dimensions: [
      across('pitchMm', { from: 0.5 * p, to: 1.5 * p, y: size }),
      upright('wireDiameterMm', { from: size - p / 2 - d / 2, to: size - p / 2 + d / 2, x: 0 }),
    ],
  });
  if (!crimped) return [face];
  const wave = Array.from({ length: count * 24 + 1 }, (_, step): XY => [
    (d / 2) * Math.sin((Math.PI * step) / 24),
    (step * p) / 24,
  ]);
  const crossing = Array.from({ length: count }, (_, index) =>
    ring(d, 'cut', [(index % 2 === 0 ? -1 : 1) * (d / 2), (index + 0.5) * p]),
  );
  return [face, view({ strokes: [wire(wave)], rings: crossing })];
}

export const wiresAndThreads = {
  spring,
  thread,
  tappedHole,
  stud,
  meshStraight: (dimensions: Dimensions) => mesh(dimensions, false),
  meshCrimped: (dimensions: Dimensions) => mesh(dimensions, true),
} satisfies Record<string, Draw>;
