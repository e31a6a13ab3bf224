/** One dimension of a shape: what a form asks for. */
export interface ShapeParameter {
  label: string;
  /** The letter in the shape's formula. */
  symbol: string;
  unit: 'mm' | 'mm²' | '';
  /** A whole number of things. */
  whole?: boolean;
  /** May be zero; everything else is more than zero. */
  orZero?: boolean;
  /** Less than this many times another dimension (or as much as it, with `inclusive`). */
  below?: { parameter: string; times?: number; inclusive?: boolean };
}

/** A bore, or a shape used to cut one: how its wall and its flat ends share in the area. */
export interface Cut {
  wallMm2: number;
  /** Along the bore. */
  depthMm: number;
  /** Across the bore. */
  widthMm: number;
  /** Flat ends, the one that opens first in front. */
  endsMm2: readonly number[];
}

export interface Measured {
  /** Wetted: every face. */
  areaMm2: number;
  volumeMm3: number;
  /** Wall area that current does not reach, see {@link unreachedShare}. */
  unreachedMm2?: number;
  /** Given for the shapes that can be cut out of another. */
  cut?: Cut;
}

export interface ShapeDefinition<Key extends string = string> {
  label: string;
  formula: string;
  parameters: Record<Key, ShapeParameter>;
  /** What the formula leaves out or assumes. */
  note?: string;
  measure: (dimensions: Record<Key, number>) => Measured;
}

/** Ties the names of the parameters to those `measure` reads. */
export const shape = <Key extends string>(definition: ShapeDefinition<Key>): ShapeDefinition<Key> =>
  definition;

/**
 * The share of a bore that current hardly reaches: all that lies deeper than about one diameter from an opening. Common
 * practice, no source; chemistry and drag-out reach all of it.
 */
export const unreachedShare = (bore: { depthMm: number; widthMm: number; openings: number }): number =>
  Math.max(0, 1 - (bore.openings * bore.widthMm) / bore.depthMm);

export const mm = (label: string, symbol: string, extra: Partial<ShapeParameter> = {}): ShapeParameter => ({
  label,
  symbol,
  unit: 'mm',
  ...extra,
});

export const below = (parameter: string, times = 1): Pick<ShapeParameter, 'below'> => ({
  below: { parameter, times },
});

export const disc = (diameterMm: number): number => (Math.PI * diameterMm ** 2) / 4;
