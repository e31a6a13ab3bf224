import type { Electrical } from '@huelot/contracts';

const MM2_PER_M2 = 1e6;

/**
 * What the supply should show when the whole load hangs in the tank: every piece's electrical area and the bare
 * metal of the rack draw current.
 *
 * @example
 * loadOf({ pieces: 48, pieceAreaMm2: 4200, rackAreaMm2: 60_000, electrical }) // { loadAreaMm2: 261_600, ... }
 */
export function loadOf(of: {
  pieces: number;
  pieceAreaMm2: number;
  rackAreaMm2: number;
  electrical: Electrical;
}) {
  const loadAreaMm2 = of.pieces * of.pieceAreaMm2 + of.rackAreaMm2;
  const amps = (densityAPerM2: number) => (densityAPerM2 * loadAreaMm2) / MM2_PER_M2;
  return {
    loadAreaMm2,
    peakCurrentA: amps(of.electrical.peakCurrentDensityAPerM2),
    steadyCurrentA: amps(of.electrical.steadyCurrentDensityAPerM2),
  };
}
