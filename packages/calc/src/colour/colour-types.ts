/** CIE 1976 L*a*b*; here always of D65 and the 2 degree observer, specular reflection included. */
export interface Lab {
  /** Lightness, 0 to 100. */
  L: number;
  /** Green (negative) to red. */
  a: number;
  /** Blue (negative) to yellow. */
  b: number;
}

/** CIELAB in polar form. */
export interface Lch {
  L: number;
  /** Chroma, the distance from grey. */
  C: number;
  /** Hue angle in degrees, 0 (red) to below 360, by way of yellow (90). */
  h: number;
}

/** Tristimulus values; Y = 100 for a perfect reflector. */
export interface Xyz {
  X: number;
  Y: number;
  Z: number;
}

/** An 8-bit screen colour, also as #rrggbb. */
export interface Srgb {
  r: number;
  g: number;
  b: number;
  hex: string;
}

export interface Colour {
  xyz: Xyz;
  lab: Lab;
  lch: Lch;
  /** Clipped into range where `inGamut` is false, and then not the true colour. */
  srgb: Srgb;
  /** Whether a standard screen can show the colour. */
  inGamut: boolean;
}
