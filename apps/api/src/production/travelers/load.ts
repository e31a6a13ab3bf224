import type { Electrical } from '@huelot/contracts';

const MM2_PER_M2 = 1e6;

/**
 * What the supply should show when the whole load hangs in the tank: every piece's electrical area and the bare
 * metal of the rack draw current.
 *
 * @example
 * loadOf({ pieces: 48, pieceAreaMm2: 4200, rackAreaMm2: 60_000, electrical }) // { loadAreaMm2: 261_600, ... }
 */
export function loadOf({
  pieces,
  pieceAreaMm2,
  rackAreaMm2,
  electrical,
}: {
  pieces: number;
  pieceAreaMm2: number;
  rackAreaMm2: number;
  electrical: Electrical;
}) {
  const loadAreaMm2 = pieces * pieceAreaMm2 + rackAreaMm2;
  const amps = (densityAPerM2: number) => (densityAPerM2 * loadAreaMm2) / MM2_PER_M2;
  return {
    loadAreaMm2,
    peakCurrentA: amps(electrical.peakCurrentDensityAPerM2),
    steadyCurrentA: amps(electrical.steadyCurrentDensityAPerM2),
  };
}
