import type { Electrical, TankContents } from '../steps.ts';

interface SupplyStep {
  position: number;
  contents: TankContents | null;
  electrical: Electrical | null;
}
interface SupplyFacts {
  maxVoltageV: number;
  maxCurrentA: number;
  /** What the tanks it is connected to hold. */
  contents: readonly TankContents[];
}

/**
 * Why a power supply cannot run the electrolytic steps of a route, one clause a step; empty where it can. The one rule
 * for the form, the price and the release. Current is no reason: a weaker supply takes smaller loads.
 *
 * @example
 * supplyFaults({ maxVoltageV: 10, maxCurrentA: 40, contents: ['electrolyte-salt'] }, steps)
 * // ['gives at most 10 V; step 3 needs 110 V']
 */
export const supplyFaults = (supply: SupplyFacts, steps: readonly SupplyStep[]): string[] =>
  steps.flatMap(({ position, contents, electrical }) => {
    if (electrical === null) return [];
    if (contents !== null && !supply.contents.includes(contents))
      return [`is not connected to a tank for step ${position}`];
    const highestV =
      electrical.mode === 'voltage' ? Math.max(...electrical.programme.map(({ to }) => to)) : 0;
    return highestV > supply.maxVoltageV
      ? [`gives at most ${supply.maxVoltageV} V; step ${position} needs ${highestV} V`]
      : [];
  });

/** The supplies that can run a route, the one of the most current first; none where it uses no current. */
export const usableSupplies = <S extends SupplyFacts>(
  supplies: readonly S[],
  steps: readonly SupplyStep[],
): S[] =>
  steps.every(({ electrical }) => electrical === null)
    ? []
    : supplies
        .filter((supply) => supplyFaults(supply, steps).length === 0)
        .sort((a, b) => b.maxCurrentA - a.maxCurrentA);
