import { srgbToLab, type Lab } from '@huelot/calc';

/** Linear light of the three channels of a picture, 0 to 1. */
export type LinearRgb = readonly [number, number, number];
interface Pixels {
  data: ArrayLike<number>;
  width: number;
  height: number;
}

// IEC 61966-2-1.
const toLinear = (byte: number) => {
  const v = byte / 255;
  return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
};
const toByte = (linear: number) => {
  const v = Math.min(1, Math.max(0, linear));
  return Math.round(255 * (v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055));
};

/** The mean light of a round patch of a picture, around a place in its pixels. */
export function meanAround(
  { data, width, height }: Pixels,
  { x, y, radius }: { x: number; y: number; radius: number },
): LinearRgb {
  const sum = [0, 0, 0];
  let count = 0;
  for (let row = Math.max(0, Math.floor(y - radius)); row <= Math.min(height - 1, y + radius); row += 1) {
    for (
      let column = Math.max(0, Math.floor(x - radius));
      column <= Math.min(width - 1, x + radius);
      column += 1
    ) {
      if (Math.hypot(column - x, row - y) > radius) continue;
      const at = 4 * (row * width + column);
      for (const channel of [0, 1, 2]) sum[channel] = (sum[channel] ?? 0) + toLinear(data[at + channel] ?? 0);
      count += 1;
    }
  }
  const mean = (channel: number) => (count === 0 ? 0 : (sum[channel] ?? 0) / count);
  return [mean(0), mean(1), mean(2)];
}

/** The lightness of the two patches that reference cards usually have: common practice, no source. */
export const referenceLightness = { white: 95, grey: 50 } as const;
export type ReferencePatch = keyof typeof referenceLightness;

/** Darker than this in a channel, a patch is no reference: what is divided by it is noise. */
const DARKEST = 0.02;

/**
 * A colour of a picture beside a neutral patch of known lightness in the same light: each channel is scaled so that the patch
 * becomes neutral. Good for order and memory, never for an approval. Null where the patch is too dark to be one.
 */
export function colourBeside(
  light: LinearRgb,
  { patch, reference }: { patch: ReferencePatch; reference: LinearRgb },
): Lab | null {
  if (Math.min(...reference) < DARKEST) return null;
  const aim = ((referenceLightness[patch] + 16) / 116) ** 3;
  const [r, g, b] = light.map((value, channel) => toByte((value * aim) / (reference[channel] ?? 1)));
  const { L, a, b: bStar } = srgbToLab({ r: r ?? 0, g: g ?? 0, b: b ?? 0 });
  const tenth = (value: number) => Number(value.toFixed(1));
  return { L: tenth(L), a: tenth(a), b: tenth(bStar) };
}
