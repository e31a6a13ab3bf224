import type { Dimension, Side, View, XY } from './drawings/drawing.ts';

/** Pixels around a drawing: where dimension lines run and their words stand. */
const GAP = 28;
const LINE_AT = 20;
const LEVEL = 30;
const WORDS = 18;
const MARGIN = 10;
const SLOT = 72;
const ARROW = 7;

export interface Placed {
  strokes: { d: string; look: View['strokes'][number]['look']; width: number | null }[];
  rings: { cx: number; cy: number; r: number; look: View['rings'][number]['look'] }[];
  dimensions: PlacedDimension[];
}

export interface PlacedDimension {
  name: string;
  /** Lines from the shape to the dimension line. */
  extensions: string;
  line: string;
  arrows: string[];
  words: { x: number; y: number; upright: boolean };
}

interface Box {
  left: number;
  right: number;
  top: number;
  bottom: number;
}

/**
 * Places the views of a drawing in a frame, all to one scale and lined up as projections of one another, and lays their
 * dimension lines around them. Returns pixels.
 */
export function layOut(views: readonly View[], frame: { width: number; height: number }): Placed[] {
  const boxes = views.map(boxOf);
  const tops = Math.min(...boxes.map(({ top }) => top));
  const bottoms = Math.max(...boxes.map(({ bottom }) => bottom));
  const levels = views.map(levelsOf);
  const space = (side: Side) => Math.max(...levels.map((level) => roomFor(level[side].count)));
  const [above, below] = [space('above'), space('below')];
  const beside = levels.map((level) => roomFor(level.left.count) + roomFor(level.right.count));
  const room = frame.width - sum(beside) - GAP * (views.length - 1);
  const widths = boxes.map(({ left, right }) => right - left);
  const fit = Math.min(
    scaleFor(widths, room),
    (frame.height - above - below) / Math.max(bottoms - tops, 1e-9),
  );

  const taken =
    sum(widths.map((width) => Math.max(width * fit, SLOT))) + sum(beside) + GAP * (views.length - 1);
  let x = (frame.width - taken) / 2;
  const y = above + (frame.height - above - below - (bottoms - tops) * fit) / 2;
  return views.map((view, index) => {
    const box = boxes[index] ?? { left: 0, right: 0, top: 0, bottom: 0 };
    const level = levels[index] ?? levelsOf(view);
    const slot = Math.max((box.right - box.left) * fit, SLOT);
    const left = x + roomFor(level.left.count) + (slot - (box.right - box.left) * fit) / 2;
    x += roomFor(level.left.count) + slot + roomFor(level.right.count) + GAP;
    const to = ([px, py]: XY): XY => [left + (px - box.left) * fit, y + (py - tops) * fit];
    return place(view, { to, fit, box, level });
  });
}

/** The largest scale at which the views fit side by side, none narrower than the words below it. */
function scaleFor(widths: readonly number[], room: number): number {
  let wide = widths.filter((width) => width > 0);
  for (;;) {
    const scale = (room - SLOT * (widths.length - wide.length)) / Math.max(sum(wide), 1e-9);
    const still = wide.filter((width) => width * scale >= SLOT);
    if (still.length === wide.length || still.length === 0) return scale;
    wide = still;
  }
}

function place(
  view: View,
  { to, fit, box, level }: { to: (at: XY) => XY; fit: number; box: Box; level: Levels },
): Placed {
  const [left, top] = to([box.left, box.top]);
  const [right, bottom] = to([box.right, box.bottom]);
  return {
    strokes: view.strokes.map(({ points, closed, look, widthMm }) => ({
      d: pathOf(points.map(to), closed),
      look,
      width: widthMm === undefined ? null : Math.max(widthMm * fit, 1.5),
    })),
    rings: view.rings.map(({ at, radius, look }) => {
      const [cx, cy] = to(at);
      return { cx, cy, r: radius * fit, look };
    }),
    dimensions: view.dimensions.map((dimension) =>
      placeDimension(dimension, { to, edges: { left, right, top, bottom }, level: level.levelOf(dimension) }),
    ),
  };
}

function placeDimension(
  { name, from, to: end, side }: Dimension,
  input: { to: (at: XY) => XY; edges: Box; level: number },
): PlacedDimension {
  const { edges, level } = input;
  const [a, b] = [input.to(from), input.to(end)];
  const away = LINE_AT + level * LEVEL;
  const upright = side === 'left' || side === 'right';
  const at = {
    below: edges.bottom + away,
    above: edges.top - away,
    left: edges.left - away,
    right: edges.right + away,
  }[side];
  const onLine = ([x, y]: XY): XY => (upright ? [at, y] : [x, at]);
  const [p, q] = [onLine(a), onLine(b)];
  const outward = side === 'below' || side === 'right' ? 1 : -1;
  const over = (point: XY): XY =>
    upright ? [point[0] + 5 * outward, point[1]] : [point[0], point[1] + 5 * outward];
  const middle: XY = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
  const words = upright
    ? { x: middle[0] + (outward > 0 ? WORDS - 4 : -6), y: middle[1], upright }
    : { x: middle[0], y: middle[1] + (outward > 0 ? WORDS - 2 : -7), upright };
  return {
    name,
    extensions: `${pathOf([a, over(p)], false)}${pathOf([b, over(q)], false)}`,
    line: pathOf([p, q], false),
    arrows: arrowsOf(p, q),
    words,
  };
}

/** Arrow heads at both ends: inside where there is room, outside where there is not. */
function arrowsOf(p: XY, q: XY): string[] {
  const length = Math.hypot(q[0] - p[0], q[1] - p[1]);
  const [ux, uy] = length > 0 ? [(q[0] - p[0]) / length, (q[1] - p[1]) / length] : [1, 0];
  const turn = length < 3 * ARROW ? -1 : 1;
  const head = ([x, y]: XY, sign: number) => {
    const back: XY = [x + ux * ARROW * sign, y + uy * ARROW * sign];
    const half = ARROW / 3;
    return pathOf(
      [
        [x, y],
        [back[0] - uy * half, back[1] + ux * half],
        [back[0] + uy * half, back[1] - ux * half],
      ],
      true,
    );
  };
  return [head(p, turn), head(q, -turn)];
}

interface Levels extends Record<Side, { count: number }> {
  levelOf: (dimension: Dimension) => number;
}

/** Dimensions on one side stand side by side where they can, and further out where they would overlap. */
function levelsOf({ dimensions }: View): Levels {
  const levels = new Map<Dimension, number>();
  const counts = { above: 0, below: 0, left: 0, right: 0 };
  for (const dimension of dimensions) {
    const rivals = dimensions.filter(({ side }) => side === dimension.side);
    const [start, end] = span(dimension);
    let level = 0;
    const blocked = () =>
      rivals.some((rival) => {
        const [from, to] = span(rival);
        return levels.get(rival) === level && from < end && start < to;
      });
    while (blocked()) level += 1;
    levels.set(dimension, level);
    counts[dimension.side] = Math.max(counts[dimension.side], level + 1);
  }
  return {
    above: { count: counts.above },
    below: { count: counts.below },
    left: { count: counts.left },
    right: { count: counts.right },
    levelOf: (dimension) => levels.get(dimension) ?? 0,
  };
}

function span({ from, to, side }: Dimension): [number, number] {
  const axis = side === 'left' || side === 'right' ? 1 : 0;
  return [Math.min(from[axis], to[axis]), Math.max(from[axis], to[axis])];
}

const roomFor = (levels: number): number =>
  levels === 0 ? MARGIN : LINE_AT + (levels - 1) * LEVEL + WORDS + 4;

function boxOf({ strokes, rings }: View): Box {
  const points = [
    ...strokes.flatMap(({ points: all, widthMm = 0 }) => {
      const half = widthMm / 2;
      return all.flatMap(([x, y]): XY[] => [
        [x - half, y - half],
        [x + half, y + half],
      ]);
    }),
    ...rings.flatMap(({ at: [x, y], radius }): XY[] => [
      [x - radius, y - radius],
      [x + radius, y + radius],
    ]),
  ];
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  return { left: Math.min(...xs), right: Math.max(...xs), top: Math.min(...ys), bottom: Math.max(...ys) };
}

const pathOf = (points: readonly XY[], closed: boolean): string =>
  `M${points.map(([x, y]) => `${x.toFixed(2)} ${y.toFixed(2)}`).join('L')}${closed ? 'Z' : ''}`;
const sum = (values: readonly number[]): number => values.reduce((total, one) => total + one, 0);
