import { checkWhole } from '../check.ts';
import { CalcError } from '../errors.ts';
import type { Lab, Srgb, Xyz } from './colour-types.ts';
import { checkLab, labToXyz, xyzToLab } from './lab.ts';

/** IEC 61966-2-1:1999, four decimals as printed there. */
// prettier-ignore
export const rgbFromXyz = {
  r: { X:  3.2406, Y: -1.5372, Z: -0.4986 },
  g: { X: -0.9689, Y:  1.8758, Z:  0.0415 },
  b: { X:  0.0557, Y: -0.2040, Z:  1.0570 },
} as const;

/** Inverse of the four-decimal matrix, so that conversions return to where they began; proved by a test. */
// prettier-ignore
export const xyzFromRgb = {
  X: { r: 0.41239558896741424,  g: 0.3575834307637148,  b: 0.18049264738170157 },
  Y: { r: 0.21258623078559555,  g: 0.7151703037034108,  b: 0.07220049864333623 },
  Z: { r: 0.019297215491746945, g: 0.11918386458084854, b: 0.9504971251315798  },
} as const;

/**
 * Half a step of an 8-bit channel where steps are finest: a colour no further outside is shown as exactly as
 * any other.
 */
const GAMUT_SLACK = 1 / (2 * 255 * 12.92);

const encode = (c: number): number => (c <= 0.0031308 ? 12.92 * c : 1.055 * c ** (1 / 2.4) - 0.055);
const decode = (v: number): number => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
const inRange = (c: number): boolean => c >= -GAMUT_SLACK && c <= 1 + GAMUT_SLACK;
const eightBit = (c: number): number => Math.floor(255 * encode(Math.min(1, Math.max(0, c))) + 0.5);

/** The screen colour of tristimulus values, clipped, and whether clipping was needed. */
export function xyzToSrgb({ X, Y, Z }: Xyz): { srgb: Srgb; inGamut: boolean } {
  const channel = (row: Xyz) => (row.X * X + row.Y * Y + row.Z * Z) / 100;
  const [red, green, blue] = [channel(rgbFromXyz.r), channel(rgbFromXyz.g), channel(rgbFromXyz.b)];
  const [r, g, b] = [eightBit(red), eightBit(green), eightBit(blue)];
  const hex = `#${((r << 16) | (g << 8) | b).toString(16).padStart(6, '0')}`;
  return { srgb: { r, g, b, hex }, inGamut: inRange(red) && inRange(green) && inRange(blue) };
}

/**
 * The 8-bit screen colour of a CIELAB colour under D65 and the 2 degree observer, for drawing swatches. Film
 * colours often lie outside what a screen can show: `inGamut` is then false and the channels are clipped,
 * which is not the true colour and should be said beside the swatch.
 *
 * Valid for L from 0 to 100 and a and b from -200 to 200. No chromatic adaptation: both sides refer to D65.
 * Source: IEC 61966-2-1:1999, four-decimal matrix.
 * Errors: `not-finite` or `out-of-range` for a component.
 *
 * @example
 * labToSrgb({ L: 42.905, a: 9.145, b: -42.121 }) // { r: 60, g: 100, b: 171, hex: '#3c64ab', inGamut: true }
 */
export function labToSrgb(lab: Lab): Srgb & { inGamut: boolean } {
  const { srgb, inGamut } = xyzToSrgb(labToXyz(checkLab('lab', lab)));
  return { ...srgb, inGamut };
}

/**
 * The CIELAB colour (D65, 2 degree observer) that an 8-bit screen colour stands for: a target picked on a
 * screen, which is only as good as that screen.
 *
 * Valid for whole channels from 0 to 255, or text of the form #rrggbb.
 * Source: IEC 61966-2-1:1999, inverse of the four-decimal matrix.
 * Errors: `malformed` for other text; `not-finite` or `out-of-range` for a channel.
 *
 * @example
 * srgbToLab('#3c64ab') // { L: 42.786, a: 9.227, b: -42.26 }
 */
export function srgbToLab(colour: string | Pick<Srgb, 'r' | 'g' | 'b'>): Lab {
  const { r, g, b } = typeof colour === 'string' ? channelsOf(colour) : colour;
  const [red, green, blue] = [channelOf('r', r), channelOf('g', g), channelOf('b', b)];
  const value = (row: Record<'r' | 'g' | 'b', number>) => 100 * (row.r * red + row.g * green + row.b * blue);
  return xyzToLab(value(xyzFromRgb.X), value(xyzFromRgb.Y), value(xyzFromRgb.Z));
}

const channelOf = (name: string, value: number): number =>
  decode(checkWhole(`colour.${name}`, value, { min: 0, max: 255 }) / 255);

function channelsOf(hex: string): Pick<Srgb, 'r' | 'g' | 'b'> {
  if (!/^#[0-9a-f]{6}$/i.test(hex)) {
    throw new CalcError({ code: 'malformed', argument: 'colour', given: hex, allowed: '#rrggbb' });
  }
  const packed = Number.parseInt(hex.slice(1), 16);
  return { r: packed >> 16, g: (packed >> 8) & 255, b: packed & 255 };
}
