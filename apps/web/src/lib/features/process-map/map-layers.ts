import {
  labToSrgb,
  type TrialMap,
  type TrialMapPoint,
  type MapSetting,
  type TrialOutcome,
} from '@huelot/calc';
import type { MapAxis } from './map-axes.ts';

export const COLUMNS = 48;
export const ROWS = 32;

/** What the ground of a map is coloured by. */
export const mapLayers = {
  outcome: 'what comes out',
  certainty: 'how sure that is',
  colour: 'its colour',
  current: 'current density',
  thickness: 'film thickness',
  protection: 'protection',
} as const;
export type MapLayer = keyof typeof mapLayers;

/** Of an outcome, on either theme. Greys for nothing and dark; one hue for each colour, reds for faults. */
export const outcomeColours: Record<TrialOutcome, string> = {
  none: '#c9cfcf',
  interference: '#5b8fd0',
  'gold-brown': '#c39a3e',
  dark: '#4b5254',
  dyed: '#9a64a8',
  powdery: '#d98f83',
  etched: '#c4574c',
  spotted: '#e0b4a8',
  'bath-coloured': '#8c2f3a',
};

export interface MapCell extends TrialMapPoint {
  column: number;
  row: number;
}

/** The ground of a map in equal cells, from the lowest x and the highest y on, as a picture is painted. */
export function cellsOf(
  map: TrialMap,
  { x, y, setting }: { x: MapAxis; y: MapAxis; setting: MapSetting },
): MapCell[] {
  return Array.from({ length: COLUMNS * ROWS }, (_, index) => {
    const [column, row] = [index % COLUMNS, Math.floor(index / COLUMNS)];
    const point = map.at({
      ...setting,
      [x.factor]: x.low + ((column + 0.5) / COLUMNS) * (x.high - x.low),
      [y.factor]: y.high - ((row + 0.5) / ROWS) * (y.high - y.low),
    });
    return { ...point, column, row };
  });
}

export const isTold = ({ class: found }: TrialMapPoint): boolean =>
  found !== 'untested' && found !== 'unsettled';
export const surestOf = ({ probabilities }: TrialMapPoint): number =>
  Math.max(...Object.values(probabilities));

const rampFrom = [222, 232, 236] as const;
const rampTo = [22, 78, 99] as const;
/** A share from 0 to 1 as a colour that grows darker with it. */
export const rampColour = (share: number): string =>
  `rgb(${rampFrom.map((from, index) => Math.round(from + Math.min(1, Math.max(0, share)) * ((rampTo[index] ?? 0) - from))).join(' ')})`;

/** What a layer of figures shows of a cell; null where nobody knows. */
function figureOf(cell: MapCell, layer: MapLayer): number | null {
  if (layer === 'certainty') return cell.class === 'untested' ? null : surestOf(cell);
  if (layer === 'current') return cell.currentDensityAPerM2;
  return layer === 'thickness' ? (cell.thickness?.thicknessNm ?? null) : cell.protects;
}

/** A thickness that is known no better than this, as a share of it, is drawn half hatched. */
export const VAGUE_ABOVE = 0.2;
const isVague = ({ thickness }: TrialMapPoint): boolean =>
  thickness !== null && thickness.standardUncertaintyNm > VAGUE_ABOVE * thickness.thicknessNm;

/** The range of a figure over the cells that have one; null where none does. */
export function rangeOf(cells: readonly MapCell[], layer: MapLayer): { low: number; high: number } | null {
  if (layer === 'certainty') return { low: 1 / 3, high: 1 };
  if (layer === 'protection')
    return cells.some(({ protects }) => protects !== null) ? { low: 0, high: 1 } : null;
  const values = cells.flatMap((cell) => figureOf(cell, layer) ?? []);
  if (values.length === 0) return null;
  // A film begins at nothing: the ramp does, too.
  return { low: layer === 'thickness' ? 0 : Math.min(...values), high: Math.max(...values) };
}

/** What a cell is painted in; null is left hatched: nobody knows. */
export function cellColour(
  cell: MapCell,
  { layer, range }: { layer: MapLayer; range: { low: number; high: number } | null },
): string | null {
  if (layer === 'outcome') return isTold(cell) ? outcomeColours[cell.class as TrialOutcome] : null;
  if (layer === 'colour') return cell.lab === null ? null : labToSrgb(cell.lab).hex;
  const value = figureOf(cell, layer);
  if (value === null || range === null) return null;
  if (layer === 'thickness' && isVague(cell) && (cell.column + cell.row) % 2 === 0) return null;
  return rampColour((value - range.low) / (range.high - range.low || 1));
}

/** Cells as a picture, one pixel each; cells without a colour are left out of it. */
export function painted(colours: readonly (string | null)[]): string {
  const canvas = document.createElement('canvas');
  [canvas.width, canvas.height] = [COLUMNS, ROWS];
  const context = canvas.getContext('2d');
  if (context === null) return '';
  colours.forEach((colour, index) => {
    if (colour === null) return;
    context.fillStyle = colour;
    context.fillRect(index % COLUMNS, Math.floor(index / COLUMNS), 1, 1);
  });
  return canvas.toDataURL();
}
