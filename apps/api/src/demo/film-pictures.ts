import type { FilmEvidence } from '@huelot/contracts';
import type { Random } from './chance.ts';
import { greyPng } from './grey-png.ts';

type Pair = Extract<FilmEvidence, { kind: 'pores' }>['pairs'][number];
export interface DrawnPicture {
  png: Buffer;
  /** Both ends of its scale bar. */
  scale: Pair;
  /** Across the film or each pore, as a steady hand clicks. */
  pairs: Pair[];
}

const width = 640;
const height = 480;
const bar = { x: 24, y: 452, thick: 6 };
const isOnBar = (x: number, y: number, lengthPx: number) =>
  x >= bar.x && x <= bar.x + lengthPx && y >= bar.y && y < bar.y + bar.thick;
const scaleOf = (lengthPx: number): Pair => ({
  from: { x: bar.x, y: bar.y + bar.thick / 2 },
  to: { x: bar.x + lengthPx, y: bar.y + bar.thick / 2 },
});
const tenth = (value: number) => Math.round(10 * value) / 10;

/**
 * A cross-section as an electron microscope shows it, drawn: dark resin, the film with its pores, bright metal, and a scale bar.
 *
 * @example
 * drawSection({ filmPx: 120, barPx: 200, isPorous: true, chance }).pairs.length // 7
 */
export function drawSection({
  filmPx,
  barPx,
  isPorous,
  chance,
}: {
  filmPx: number;
  barPx: number;
  isPorous: boolean;
  chance: Random;
}): DrawnPicture {
  const metalAt = (x: number) => 290 + 4 * Math.sin(x / 47) + 2 * Math.sin(x / 13);
  const topAt = (x: number) => metalAt(x) - filmPx * (1 + 0.03 * Math.sin(x / 83) + 0.015 * Math.sin(x / 19));
  const pores = isPorous
    ? Array.from({ length: 60 }, () => {
        const x = chance.between(0, width);
        const depth = chance.between(0.12, 0.88);
        return { x, y: topAt(x) + depth * (metalAt(x) - topAt(x)), r: filmPx * chance.between(0.025, 0.06) };
      })
    : [];
  const png = greyPng({
    ...{ width, height },
    greyAt(x, y) {
      if (isOnBar(x, y, barPx)) return 255;
      const grain = chance.near(0, 7);
      if (y < topAt(x)) return 34 + grain;
      if (y > metalAt(x)) return 205 + grain;
      return (pores.some((pore) => Math.hypot(pore.x - x, pore.y - y) < pore.r) ? 50 : 128) + grain;
    },
  });
  const pairs = Array.from({ length: 7 }, (_, index) => {
    const x = 60 + 86 * index;
    return {
      from: { x, y: tenth(topAt(x) + chance.near(0, 0.8)) },
      to: { x, y: tenth(metalAt(x) + chance.near(0, 0.8)) },
    };
  });
  return { png, scale: scaleOf(barPx), pairs };
}

/** A surface with round pores, drawn; every one of them is clicked across. */
export function drawPores({ barPx, chance }: { barPx: number; chance: Random }): DrawnPicture {
  const pores = Array.from({ length: 54 }, (_, index) => ({
    x: 36 + 71 * (index % 9) + chance.between(-9, 9),
    y: 36 + 70 * Math.floor(index / 9) + chance.between(-9, 9),
    r: chance.near(20, 2.4),
  }));
  const png = greyPng({
    ...{ width, height },
    greyAt(x, y) {
      if (isOnBar(x, y, barPx)) return 255;
      const isPore = pores.some((pore) => Math.hypot(pore.x - x, pore.y - y) < pore.r);
      return (isPore ? 38 : 150) + chance.near(0, 8);
    },
  });
  const pairs = pores.map(({ x, y, r }) => ({
    from: { x: tenth(x - r), y: tenth(y) },
    to: { x: tenth(x + r), y: tenth(y) },
  }));
  return { png, scale: scaleOf(barPx), pairs };
}
