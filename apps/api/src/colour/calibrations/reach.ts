import { type FilmGrowth, matchColour, nominalGrowth, voltageWindow } from '@huelot/calc';
import {
  type AgreedColour,
  calibratedMetals,
  type CalibratedMetal,
  type VoltageReach,
} from '@huelot/contracts';
import type { Db } from '../../db/client.ts';
import { getPart } from '../../catalog/parts/index.ts';
import { readDrifts } from './drift.ts';
import { asGrowth } from './law.ts';
import * as queries from './queries.ts';

interface Wanted {
  colour: AgreedColour | null;
  zone: string;
}
type Law = Pick<VoltageReach, 'law' | 'calibration'> & { growth: FilmGrowth };

/**
 * Whether a voltage comes within tolerance of the colours that a part and its zones of the same material ask for: by the
 * newest approved calibration of the material that still holds, else by the law out of the literature.
 */
export async function viewReach(db: Db, partId: number): Promise<VoltageReach> {
  const part = await getPart(db.execute, partId);
  const metal = calibratedMetals.find((one) => one === part.material.baseMetal);
  if (metal === undefined) return { nearest: [], law: null, calibration: null };
  const law = await lawFor(db, { materialId: part.material.id, metal });
  const wanted: Wanted[] = [
    { colour: part.agreedColour, zone: '' },
    ...part.zones
      .filter((zone) => zone.material === null || zone.material.id === part.material.id)
      .map(({ name, agreedColour }) => ({ colour: agreedColour, zone: name })),
  ];
  const nearest = wanted.flatMap((one) => nearestTo(law.growth, one));
  return nearest.length === 0
    ? { nearest, law: null, calibration: null }
    : { nearest, law: law.law, calibration: law.calibration };
}

async function lawFor(
  db: Db,
  { materialId, metal }: { materialId: number; metal: CalibratedMetal },
): Promise<Law> {
  const approved = await queries.readApproved(db.execute, materialId);
  const drifts = await readDrifts(db.execute, approved);
  const holding = approved.find(({ id }) => drifts.get(id)?.expiredAt === null);
  if (holding === undefined)
    return { growth: nominalGrowth({ system: metal }), law: 'nominal', calibration: null };
  const { id, code, revision, fit } = holding;
  return { growth: asGrowth(fit.growth), law: 'calibration', calibration: { id, code, revision } };
}

/** Nothing of a colour in words, and of one that was read otherwise than laws speak: D65, 2 degree, specular included. */
function nearestTo(growth: FilmGrowth, { colour, zone }: Wanted): VoltageReach['nearest'] {
  if (!colour?.target || !colour.tolerance || !colour.conditions) return [];
  const { illuminant, observerDeg, geometry } = colour.conditions;
  if (illuminant !== 'D65' || observerDeg !== 2 || !['d8-included', 'unstated'].includes(geometry)) return [];
  const asked = { target: colour.target, growth, toleranceDeltaE: colour.tolerance.deltaE };
  const [best] = matchColour({ ...asked, coupons: [] }).candidates.toSorted(
    (one, other) => one.deltaE - other.deltaE,
  );
  if (best === undefined) return [];
  const { lowestVoltageV: lowV, highestVoltageV: highV } = voltageWindow(asked);
  return [
    {
      ...{ voltageV: best.voltageV, deltaE: best.deltaE, passes: best.passes, zone },
      ...{ toleranceDeltaE: asked.toleranceDeltaE, standard: colour.code },
      window: lowV === null || highV === null ? null : { lowV, highV },
    },
  ];
}
