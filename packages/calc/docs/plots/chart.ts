import { scaleLinear } from 'd3-scale';
import { area, line } from 'd3-shape';
import { element, INK, PAPER, px, text } from './svg.ts';

export interface Axis {
  label: string;
  domain: readonly [number, number];
  ticks?: number;
}

export type Point = readonly [x: number, y: number];

type Shape = 'circle' | 'square' | 'diamond';

interface Cell {
  x: readonly [from: number, to: number];
  y: readonly [from: number, to: number];
  fill: string;
  opacity?: number;
}

/** What is drawn in the coordinates of the axes. */
export type Mark =
  | { kind: 'line'; points: readonly Point[]; colour: string; dashed?: boolean; label?: string }
  | { kind: 'dots'; points: readonly Point[]; colour: string; shape?: Shape; fills?: readonly string[] }
  | { kind: 'cells'; cells: readonly Cell[] }
  | { kind: 'band'; points: readonly (readonly [x: number, low: number, high: number])[]; colour: string }
  | { kind: 'rule'; x: number; colour: string; note: string }
  | { kind: 'key'; row: number; words: string; colour: string; shape?: Shape; fill?: string }
  | { kind: 'note'; at: Point; words: string; colour?: string; anchor?: 'start' | 'middle' | 'end' };

export interface Chart {
  title: string;
  /** One sentence for those who cannot see the picture. */
  description: string;
  subtitle: string;
  x: Axis;
  y: Axis;
  marks: readonly Mark[];
  /** Room on the right for labels at the ends of lines. */
  labelWidth?: number;
}

const WIDTH = 760;
const HEIGHT = 440;
const TOP = 78;
const LEFT = 84;
const BOTTOM = 58;
const LABEL_STEP = 17;

type Scale = (value: number) => number;

/** A finished picture with its own background, so that it reads the same on light and dark pages. */
export function drawChart(chart: Chart): string {
  const right = WIDTH - (chart.labelWidth ?? 130);
  const x = scaleLinear().domain(chart.x.domain).range([LEFT, right]);
  const y = scaleLinear()
    .domain(chart.y.domain)
    .range([HEIGHT - BOTTOM, TOP]);
  const marks = chart.marks.map((mark) => drawMark(mark, { x, y, right }));
  return picture({
    title: chart.title,
    description: chart.description,
    width: WIDTH,
    height: HEIGHT,
    content: [
      ...heading(chart.title, chart.subtitle),
      ...drawAxes({ chart, x, y, right }),
      ...marks,
      ...lineLabels(chart.marks, y, right),
    ],
  });
}

export function picture(of: {
  title: string;
  description: string;
  width: number;
  height: number;
  content: readonly string[];
}): string {
  const { width, height } = of;
  const frame = {
    x: 0.5,
    y: 0.5,
    width: width - 1,
    height: height - 1,
    rx: 10,
    fill: PAPER,
    stroke: INK.frame,
  };
  return element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      viewBox: `0 0 ${width} ${height}`,
      width,
      height,
      role: 'img',
      'font-family': "system-ui, 'Segoe UI', Roboto, Helvetica, Arial, sans-serif",
      'font-size': 13,
    },
    [
      element('title', {}, [of.title]),
      element('desc', {}, [of.description]),
      element('rect', frame),
      ...of.content,
    ],
  ).concat('\n');
}

export const heading = (title: string, subtitle: string): string[] => [
  text(title, { x: 24, y: 32, 'font-size': 17, 'font-weight': 600, fill: INK.strong }),
  text(subtitle, { x: 24, y: 53, fill: INK.soft }),
];

function drawAxes({
  chart,
  x,
  y,
  right,
}: {
  chart: Chart;
  x: LinearScale;
  y: LinearScale;
  right: number;
}): string[] {
  const base = HEIGHT - BOTTOM;
  const xTicks = x.ticks(chart.x.ticks ?? 8).map((value) => ({ at: x(value), label: x.tickFormat()(value) }));
  const yTicks = y.ticks(chart.y.ticks ?? 6).map((value) => ({ at: y(value), label: y.tickFormat()(value) }));
  return [
    ...yTicks.map(({ at }) =>
      element('line', { x1: LEFT, x2: right, y1: px(at), y2: px(at), stroke: INK.grid }),
    ),
    ...yTicks.map(({ at, label }) =>
      text(label, { x: LEFT - 8, y: px(at + 4.5), 'text-anchor': 'end', fill: INK.soft }),
    ),
    ...xTicks.map(({ at }) =>
      element('line', { x1: px(at), x2: px(at), y1: base, y2: base + 5, stroke: INK.soft }),
    ),
    ...xTicks.map(({ at, label }) =>
      text(label, { x: px(at), y: base + 20, 'text-anchor': 'middle', fill: INK.soft }),
    ),
    element('line', { x1: LEFT, x2: right, y1: base, y2: base, stroke: INK.soft }),
    text(chart.x.label, {
      x: px((LEFT + right) / 2),
      y: HEIGHT - 16,
      'text-anchor': 'middle',
      fill: INK.strong,
    }),
    text(chart.y.label, {
      transform: `translate(26 ${px((TOP + base) / 2)}) rotate(-90)`,
      'text-anchor': 'middle',
      fill: INK.strong,
    }),
  ];
}

type LinearScale = ReturnType<typeof scaleLinear<number, number>>;

function drawMark(mark: Mark, { x, y, right }: { x: Scale; y: Scale; right: number }): string {
  switch (mark.kind) {
    case 'line': {
      const path = line<Point>(
        (point) => x(point[0]),
        (point) => y(point[1]),
      ).digits(2)([...mark.points]);
      const dash = mark.dashed ? { 'stroke-dasharray': '5 4' } : {};
      return element('path', {
        d: path ?? '',
        fill: 'none',
        stroke: mark.colour,
        'stroke-width': 2,
        ...dash,
      });
    }
    case 'band': {
      const shape = area<readonly [number, number, number]>()
        .x(([at]) => x(at))
        .y0(([, low]) => y(low))
        .y1(([, , high]) => y(high))
        .digits(2);
      return element('path', { d: shape([...mark.points]) ?? '', fill: mark.colour, 'fill-opacity': 0.18 });
    }
    case 'dots':
      return mark.points
        .map((point, i) => dot({ x: x(point[0]), y: y(point[1]) }, { ...mark, fill: mark.fills?.[i] }))
        .join('\n');
    case 'cells':
      // Neighbours must leave no seam.
      return element(
        'g',
        { 'shape-rendering': 'crispEdges' },
        mark.cells.map((cell) => drawCell(cell, { x, y })),
      );
    case 'rule': {
      const at = px(x(mark.x));
      const dash = { stroke: mark.colour, 'stroke-dasharray': '2 3' };
      return [
        element('line', { x1: at, x2: at, y1: TOP - 6, y2: HEIGHT - BOTTOM, ...dash }),
        text(mark.note, { x: at, y: TOP - 10, 'text-anchor': 'middle', 'font-size': 12, fill: mark.colour }),
      ].join('\n');
    }
    case 'key': {
      const at = TOP + 8 + mark.row * 22;
      const words = text(mark.words, { x: right + 30, y: at + 4.5, fill: mark.colour, 'font-weight': 500 });
      return [dot({ x: right + 18, y: at }, mark), words].join('\n');
    }
    case 'note':
      return text(mark.words, {
        x: px(x(mark.at[0])),
        y: px(y(mark.at[1])),
        'text-anchor': mark.anchor ?? 'start',
        'font-size': 12,
        fill: mark.colour ?? INK.soft,
      });
  }
}

function drawCell(cell: Cell, { x, y }: { x: Scale; y: Scale }): string {
  const [left, right] = cell.x.map(x);
  const [bottom, top] = cell.y.map(y);
  return element('rect', {
    x: px(left ?? 0),
    y: px(top ?? 0),
    width: px((right ?? 0) - (left ?? 0)),
    height: px((bottom ?? 0) - (top ?? 0)),
    fill: cell.fill,
    ...(cell.opacity === undefined ? {} : { 'fill-opacity': px(cell.opacity) }),
  });
}

interface Dot {
  colour: string;
  shape?: Shape;
  fill?: string | undefined;
}

function dot(at: { x: number; y: number }, { colour, shape = 'circle', fill }: Dot): string {
  const look = { fill: fill ?? PAPER, stroke: colour, 'stroke-width': 1.6 };
  const size = fill === undefined ? 3.2 : 6;
  if (shape === 'circle') return element('circle', { cx: px(at.x), cy: px(at.y), r: size, ...look });
  const turned = shape === 'diamond' ? { transform: `rotate(45 ${px(at.x)} ${px(at.y)})` } : {};
  const half = size * 0.9;
  return element('rect', {
    x: px(at.x - half),
    y: px(at.y - half),
    width: px(2 * half),
    height: px(2 * half),
    ...turned,
    ...look,
  });
}

/** Labels at the right end of lines, pushed apart where lines end close together, and kept above the axis. */
function lineLabels(marks: readonly Mark[], y: Scale, right: number): string[] {
  const labels = marks
    .flatMap((mark) => (mark.kind === 'line' && mark.label ? [{ ...mark, words: mark.label }] : []))
    .map(({ words, colour, points }) => ({ words, colour, at: y(points.at(-1)?.[1] ?? 0) }))
    .sort((a, b) => a.at - b.at);
  let lowest = -Infinity;
  for (const label of labels) lowest = label.at = Math.max(label.at, lowest + LABEL_STEP);
  let highest = HEIGHT - BOTTOM + LABEL_STEP;
  for (const label of labels.toReversed()) highest = label.at = Math.min(label.at, highest - LABEL_STEP);
  return labels.map(({ words, colour, at }) =>
    text(words, { x: right + 8, y: px(at + 4.5), fill: colour, 'font-weight': 500 }),
  );
}
