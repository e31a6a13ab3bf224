import type { ColourGap, ComponentUnit } from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import { readBathStatuses } from '../../lab/baths/index.ts';
import { readLastAdded } from './queries.ts';

export interface BathStrength {
  value: number;
  standardUncertainty: number | null;
  analysisId: number;
  analysisNumber: string;
  sampledAt: string;
}
export type StrengthGap = Extract<ColourGap, 'strength-not-watched' | 'not-analysed' | 'changed-since'>;

/**
 * The concentration that a trial in a bath has now, stated as its series does: by the newest analysis, if nothing was added
 * since. Otherwise what is missing.
 *
 * @example
 * await readBathStrength(execute, { bath, stated: { component: 'KOH', unit: 'massFraction', referenceTemperatureC: null } })
 */
export async function readBathStrength(
  execute: SqlExecutor,
  {
    bath,
    stated,
  }: {
    bath: { id: number; madeUpAt: Date };
    stated: { component: string; unit: ComponentUnit; referenceTemperatureC: number | null };
  },
): Promise<BathStrength | StrengthGap> {
  const standing = (await readBathStatuses(execute, [bath])).get(bath.id);
  const isStated = (one: { unit: string; referenceTemperatureC: number | null }) =>
    one.unit === stated.unit && one.referenceTemperatureC === stated.referenceTemperatureC;
  const watched = standing?.setup?.components.find((one) => one.key === stated.component && isStated(one));
  if (watched === undefined) return 'strength-not-watched';
  const latest = standing?.latest.find((one) => one.component === stated.component && isStated(one));
  if (latest === undefined || latest.value <= 0) return 'not-analysed';
  const lastAddedAt = await readLastAdded(execute, bath.id);
  if (lastAddedAt !== null && Date.parse(latest.sampledAt) < lastAddedAt.getTime()) return 'changed-since';
  const { value, standardUncertainty, analysisId, analysisNumber, sampledAt } = latest;
  return { value, standardUncertainty, analysisId, analysisNumber, sampledAt };
}
