/**
 * Drawings of shapes in millimetres, y downwards, as a draughtsman would lay them out: views beside one another, each
 * with the dimensions that its formula asks for. They know nothing of pixels; {@link ../ShapeDrawing.svelte} scales them.
 */
export type XY = readonly [x: number, y: number];

/** `cut` is material seen in section; `wire` is drawn as thick as it is. */
export type Look = 'outline' | 'hidden' | 'centre' | 'cut' | 'wire';

export interface Stroke {
  points: readonly XY[];
  closed: boolean;
  look: Look;
  /** Thickness of a wire. */
  widthMm?: number;
}

export interface Ring {
  at: XY;
  radius: number;
  look: Look;
}

export type Side = 'below' | 'above' | 'left' | 'right';

export interface Dimension {
  /** The dimension of the shape that it shows, by its name in the table of shapes. */
  name: string;
  from: XY;
  to: XY;
  side: Side;
}

export interface View {
  strokes: readonly Stroke[];
  rings: readonly Ring[];
  dimensions: readonly Dimension[];
}

export type Dimensions = Readonly<Record<string, number>>;
/** Draws a shape from its dimensions; a name that the shape does not have is not asked for. */
export type Draw = (dimensions: Dimensions) => View[];

/** A dimension by its name; the caller has checked that all are there. */
export const value = (dimensions: Dimensions, name: string): number => dimensions[name] ?? 0;

export const view = (view: Partial<View>): View => ({ strokes: [], rings: [], dimensions: [], ...view });

export const line = (points: readonly XY[], look: Look = 'outline'): Stroke => ({
  points,
  closed: false,
  look,
});
export const outline = (points: readonly XY[], look: Look = 'outline'): Stroke => ({
  points,
  closed: true,
  look,
});

/** A rectangle with its upper left corner at `at`. */
export function rectangle(input: { at?: XY; width: number; height: number; look?: Look }): Stroke {
  const [x, y] = input.at ?? [0, 0];
  const [right, low] = [x + input.width, y + input.height];
  return outline(
    [
      [x, y],
      [right, y],
      [right, low],
      [x, low],
    ],
    input.look,
  );
}

export const ring = (diameter: number, look: Look = 'outline', at: XY = [0, 0]): Ring => ({
  at,
  radius: diameter / 2,
  look,
});

/** Points of an arc, angles in radians from the x axis, turning downwards as y does. */
export function arc(input: { at: XY; radius: number; from: number; to: number }): XY[] {
  const steps = 48;
  return Array.from({ length: steps + 1 }, (_, step): XY => {
    const angle = input.from + ((input.to - input.from) * step) / steps;
    return [input.at[0] + input.radius * Math.cos(angle), input.at[1] + input.radius * Math.sin(angle)];
  });
}

/** A centre line along x or y that reaches a little past what it halves. */
export function centreLine(from: XY, to: XY): Stroke {
  const over = 0.06;
  const [dx, dy] = [(to[0] - from[0]) * over, (to[1] - from[1]) * over];
  return line(
    [
      [from[0] - dx, from[1] - dy],
      [to[0] + dx, to[1] + dy],
    ],
    'centre',
  );
}

/** The two centre lines of a circle. */
export const cross = (diameter: number, at: XY = [0, 0]): Stroke[] => [
  centreLine([at[0] - diameter / 2, at[1]], [at[0] + diameter / 2, at[1]]),
  centreLine([at[0], at[1] - diameter / 2], [at[0], at[1] + diameter / 2]),
];

/** The width of a thing that stands from x = `from` to x = `to` with its edge at `y`. */
export const across = (
  name: string,
  span: { from: number; to: number; y: number; above?: boolean },
): Dimension => ({
  name,
  from: [span.from, span.y],
  to: [span.to, span.y],
  side: span.above ? 'above' : 'below',
});

/** The height of a thing that stands from y = `from` to y = `to` with its edge at `x`. */
export const upright = (
  name: string,
  span: { from: number; to: number; x: number; right?: boolean },
): Dimension => ({
  name,
  from: [span.x, span.from],
  to: [span.x, span.to],
  side: span.right ? 'right' : 'left',
});
