import {
  across,
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
  type Ring,
  type View,
  type XY,
} from './drawing.ts';

/** More holes than this would only be grey. */
const MAX_HOLES = 400;

/** Holes spread evenly over a face: where they really are does not matter to the area. */
function spread(input: { count: number; width: number; height: number; diameter: number }): Ring[] {
  const shown = Math.min(input.count, MAX_HOLES);
  if (shown === 0) return [];
  const columns = Math.max(1, Math.round(Math.sqrt((shown * input.width) / input.height)));
  const rows = Math.ceil(shown / columns);
  return Array.from({ length: shown }, (_, index) => {
    const [column, row] = [index % columns, Math.floor(index / columns)];
    const inRow = row === rows - 1 ? shown - row * columns : columns;
    return ring(input.diameter, 'outline', [
      ((column + 0.5) * input.width) / inRow,
      ((row + 0.5) * input.height) / rows,
    ]);
  });
}

const plateWithHoles: Draw = (dimensions) => {
  const [L, W, T, d] = [
    value(dimensions, 'lengthMm'),
    value(dimensions, 'widthMm'),
    value(dimensions, 'thicknessMm'),
    value(dimensions, 'holeDiameterMm'),
  ];
  const holes = spread({ count: value(dimensions, 'holeCount'), width: L, height: W, diameter: d });
  const [x, y] = holes[0]?.at ?? [0, 0];
  return [
    view({
      strokes: [rectangle({ width: L, height: W })],
      rings: holes,
      dimensions: [
        across('lengthMm', { from: 0, to: L, y: W }),
        upright('widthMm', { from: 0, to: W, x: 0 }),
        ...(holes.length > 0
          ? [across('holeDiameterMm', { from: x - d / 2, to: x + d / 2, y, above: true })]
          : []),
      ],
    }),
    view({
      strokes: [rectangle({ width: T, height: W })],
      dimensions: [across('thicknessMm', { from: 0, to: T, y: W })],
    }),
  ];
};

/** A round thing with a bore, from its end and from its side; a plugged bore is crossed out. */
function bored(dimensions: Dimensions, length: string, plugged = false): View[] {
  const [D, d, L] = [
    value(dimensions, 'outerDiameterMm'),
    value(dimensions, 'innerDiameterMm'),
    value(dimensions, length),
  ];
  const diagonal = d / 2 / Math.SQRT2;
  const plug = [
    line([
      [-diagonal, -diagonal],
      [diagonal, diagonal],
    ]),
    line([
      [-diagonal, diagonal],
      [diagonal, -diagonal],
    ]),
  ];
  const bore = (y: number) =>
    line(
      [
        [0, y],
        [L, y],
      ],
      'hidden',
    );
  return [
    view({
      rings: [ring(D), ring(d)],
      strokes: plugged ? plug : cross(D),
      dimensions: [
        upright('outerDiameterMm', { from: -D / 2, to: D / 2, x: -D / 2 }),
        upright('innerDiameterMm', { from: -d / 2, to: d / 2, x: D / 2, right: true }),
      ],
    }),
    view({
      strokes: [
        rectangle({ at: [0, -D / 2], width: L, height: D }),
        bore(-d / 2),
        bore(d / 2),
        centreLine([0, 0], [L, 0]),
      ],
      dimensions: [across(length, { from: 0, to: L, y: D / 2 })],
    }),
  ];
}

const cup: Draw = (dimensions) => {
  const [D, d, H, f] = [
    value(dimensions, 'outerDiameterMm'),
    value(dimensions, 'innerDiameterMm'),
    value(dimensions, 'heightMm'),
    value(dimensions, 'floorMm'),
  ];
  const section: XY[] = [
    [-D / 2, 0],
    [-d / 2, 0],
    [-d / 2, H - f],
    [d / 2, H - f],
    [d / 2, 0],
    [D / 2, 0],
    [D / 2, H],
    [-D / 2, H],
  ];
  return [
    view({
      strokes: [outline(section, 'cut'), centreLine([0, 0], [0, H])],
      dimensions: [
        across('outerDiameterMm', { from: -D / 2, to: D / 2, y: H }),
        across('innerDiameterMm', { from: -d / 2, to: d / 2, y: 0, above: true }),
        upright('heightMm', { from: 0, to: H, x: -D / 2 }),
        upright('floorMm', { from: H - f, to: H, x: D / 2, right: true }),
      ],
    }),
  ];
};

/** A piece of the sheet, five pitches wide, and its edge. */
function perforated(dimensions: Dimensions, staggered: boolean): View[] {
  const [t, d, p] = [
    value(dimensions, 'thicknessMm'),
    value(dimensions, 'holeDiameterMm'),
    value(dimensions, 'pitchMm'),
  ];
  const [columns, rows] = [5, 4];
  const rise = staggered ? (p * Math.sqrt(3)) / 2 : p;
  const [width, height] = [columns * p, rows * rise];
  const rings = Array.from({ length: rows }, (_, row) => {
    const odd = staggered && row % 2 === 1;
    return Array.from({ length: odd ? columns - 1 : columns }, (_hole, column) =>
      ring(d, 'outline', [(column + (odd ? 1 : 0.5)) * p, (row + 0.5) * rise]),
    );
  }).flat();
  const y = (rows - 0.5) * rise;
  const x = (staggered ? 1 : 0.5) * p;
  return [
    view({
      strokes: [rectangle({ width, height })],
      rings,
      dimensions: [
        across('pitchMm', { from: x, to: x + p, y: height }),
        upright('holeDiameterMm', { from: y - d / 2, to: y + d / 2, x: 0 }),
      ],
    }),
    view({
      strokes: [rectangle({ width: t, height })],
      dimensions: [across('thicknessMm', { from: 0, to: t, y: height })],
    }),
  ];
}

export const hollows = {
  plateWithHoles,
  tube: (dimensions: Dimensions) => bored(dimensions, 'lengthMm'),
  tubeOuter: (dimensions: Dimensions) => bored(dimensions, 'lengthMm', true),
  washer: (dimensions: Dimensions) => bored(dimensions, 'thicknessMm'),
  cup,
  perforatedSquare: (dimensions: Dimensions) => perforated(dimensions, false),
  perforatedStaggered: (dimensions: Dimensions) => perforated(dimensions, true),
} satisfies Record<string, Draw>;
