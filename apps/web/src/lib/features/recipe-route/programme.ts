import { fallingCurrent } from '@huelot/calc';
import type { Electrical } from '@huelot/contracts';

type Stage = Electrical['programme'][number];
export interface Point {
  x: number;
  y: number;
}

/**
 * A programme as the corners of its line, seconds against level. It starts from zero; a hold at another level jumps.
 *
 * @example
 * programmeCorners([{ kind: 'ramp', to: 28, seconds: 20 }, { kind: 'hold', to: 28, seconds: 30 }])
 * // [{ x: 0, y: 0 }, { x: 20, y: 28 }, { x: 50, y: 28 }]
 */
export function programmeCorners(programme: readonly Stage[]): Point[] {
  const corners: Point[] = [{ x: 0, y: 0 }];
  for (const { kind, to, seconds } of programme) {
    const { x, y } = corners.at(-1) ?? { x: 0, y: 0 };
    if (kind === 'hold' && to !== y) corners.push({ x, y: to });
    corners.push({ x: x + seconds, y: to });
  }
  return corners;
}

/**
 * The level of a programme averaged over its time, which is what a recipe starts from until it is measured.
 *
 * @example
 * averageLevel([{ kind: 'ramp', to: 28, seconds: 20 }, { kind: 'hold', to: 28, seconds: 30 }]) // 22.4
 */
export function averageLevel(programme: readonly Stage[]): number {
  const corners = programmeCorners(programme);
  const seconds = corners.at(-1)?.x ?? 0;
  const area = corners
    .slice(1)
    .reduce((sum, { x, y }, at) => sum + ((x - (corners[at]?.x ?? 0)) * (y + (corners[at]?.y ?? 0))) / 2, 0);
  return seconds === 0 ? 0 : area / seconds;
}

type Current = Pick<Electrical, 'peakCurrentDensityAPerM2' | 'steadyCurrentDensityAPerM2' | 'timeConstantS'>;

/** The fall of the current as points, closer together while it falls fast. */
export function densityCurve(current: Current, seconds: number): Point[] {
  const count = 60;
  return Array.from({ length: count + 1 }, (_, index) => {
    const x = seconds * (index / count) ** 2;
    const { currentDensityAPerM2: y } = fallingCurrent({
      peakAPerM2: current.peakCurrentDensityAPerM2,
      steadyAPerM2: current.steadyCurrentDensityAPerM2,
      timeConstantS: current.timeConstantS,
      afterS: x,
    });
    return { x, y };
  });
}
