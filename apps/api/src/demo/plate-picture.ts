import type { ScanFinish } from '@huelot/contracts';
import { seededRandom } from './chance.ts';
import { colourPng } from './grey-png.ts';

const SIDE = 128;
const metal: Record<ScanFinish, readonly [number, number, number]> = {
  bare: [176, 180, 182],
  coloured: [38, 38, 42],
  'coloured-and-sealed': [34, 36, 40],
  'coloured-and-oiled': [22, 23, 26],
};
const rust = [154, 78, 32] as const;

/** A plate as a camera might see it, with so much of it rusted; drawn by code. The seed is that of the plate: rust stays where it was. */
export function platePicture({
  finish,
  rustPercent,
  seed,
}: {
  finish: ScanFinish;
  rustPercent: number;
  seed: number;
}): Buffer {
  const chance = seededRandom(seed);
  const spots = Array.from({ length: 24 }, () => ({
    x: chance.between(8, SIDE - 8),
    y: chance.between(8, SIDE - 8),
    size: chance.between(0.4, 1.6),
  }));
  const radius = Math.sqrt(((rustPercent / 100) * SIDE * SIDE) / (spots.length * Math.PI));
  const grain = seededRandom(seed + 1);
  return colourPng({
    ...{ width: SIDE, height: SIDE },
    colourAt: (x, y) => {
      const noise = grain.near(0, 14) + (SIDE - y) * 0.12;
      const isRust = spots.some((spot) => Math.hypot(spot.x - x, spot.y - y) < radius * spot.size);
      const [red, green, blue] = isRust ? rust : metal[finish];
      return [red + noise, green + noise, blue + noise];
    },
  });
}
