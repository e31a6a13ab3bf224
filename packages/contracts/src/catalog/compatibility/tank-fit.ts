import type { MetalStop } from './route-metals.ts';
import type { TankContents } from '../steps.ts';

interface RackWindow {
  windowWidthMm: number;
  windowHeightMm: number;
}
interface TankInside {
  code: string;
  contents: TankContents;
  insideLengthMm: number;
  insideWidthMm: number;
  insideDepthMm: number;
}

/**
 * Why a rack does not go into a tank; null where nothing known is against it. The frame is larger than its window, so a
 * window that the tank cannot take is reason enough; room for electrodes, heaters and the liquid above is not counted.
 * Common practice, no source.
 *
 * @example
 * tankFitFault({ windowWidthMm: 900, windowHeightMm: 600 }, tank) // 'T3 is 800 mm long inside, the rack’s window 900 mm wide'
 */
export function tankFitFault(rack: RackWindow, tank: TankInside): string | null {
  const longestMm = Math.max(tank.insideLengthMm, tank.insideWidthMm);
  if (rack.windowWidthMm > longestMm)
    return `${tank.code} is ${longestMm} mm long inside, the rack’s window ${rack.windowWidthMm} mm wide`;
  if (rack.windowHeightMm > tank.insideDepthMm)
    return `${tank.code} is ${tank.insideDepthMm} mm deep, the rack’s window ${rack.windowHeightMm} mm high`;
  return null;
}

/** Steps of a route for which a shop has tanks, none of which takes a rack. */
export const tankFitStops = (input: {
  rack: RackWindow;
  tanks: readonly TankInside[];
  steps: readonly { position: number; contents: TankContents | null }[];
}): MetalStop[] =>
  input.steps.flatMap(({ position, contents }) => {
    const faults = input.tanks
      .filter((tank) => tank.contents === contents && contents !== 'air')
      .map((tank) => tankFitFault(input.rack, tank));
    const [why] = faults;
    return why !== undefined && why !== null && faults.every((fault) => fault !== null)
      ? [{ position, why }]
      : [];
  });
