import { studentQuantile, thicknessFromVoltage } from '@huelot/calc';
import type { CouponFilm } from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import { readDrifts } from './drift.ts';
import { asGrowth } from './law.ts';
import * as queries from './queries.ts';

/**
 * The thickness that the newest approved calibration of a material gives at a voltage in such a bath, by the colours of its
 * coupons. Null where none holds, it has no interval, or the voltage lies outside of its coupons.
 */
export async function readOpticalThickness(
  execute: SqlExecutor,
  { materialId, contents, voltageV }: { materialId: number; contents: string; voltageV: number | null },
): Promise<CouponFilm['optical']> {
  if (voltageV === null) return null;
  const approved = (await queries.readApproved(execute, materialId)).filter(
    (calibration) => calibration.contents === contents,
  );
  const drifts = await readDrifts(execute, approved);
  const holding = approved.find(({ id }) => drifts.get(id)?.expiredAt === null);
  if (holding === undefined) return null;
  const growth = asGrowth(holding.fit.growth);
  const { thicknessNm, intervalNm } = thicknessFromVoltage({ growth, voltageV });
  const isInside = voltageV >= growth.lowestVoltageV && voltageV <= growth.highestVoltageV;
  if (intervalNm === null || growth.uncertainty === null || !isInside) return null;
  const { degreesOfFreedom } = growth.uncertainty;
  const { id, code, revision } = holding;
  return {
    ...{ thicknessNm, intervalNm, calibration: { id, code, revision } },
    standardUncertaintyNm:
      (intervalNm.high - thicknessNm) / studentQuantile({ probability: 0.975, degreesOfFreedom }),
  };
}
