import type { CompleteJob } from './check-job.ts';
import { type Consumption, total } from './consumption.ts';

export type CostLineKey =
  | 'setup'
  | 'rackUnrack'
  | 'masking'
  | 'lineTime'
  | 'dcEnergy'
  | 'heating'
  | 'chemicals'
  | 'dragOut'
  | 'rinseWater'
  | 'waste'
  | 'inspection'
  | 'packing'
  | 'reworkAllowance';

/** What is done again when a piece is reworked: all that happens between the rack and the drain. */
const REPEATED: readonly CostLineKey[] = [
  'rackUnrack',
  'masking',
  'lineTime',
  'dcEnergy',
  'heating',
  'chemicals',
  'dragOut',
  'rinseWater',
  'waste',
];

/** The direct cost of the lot, line by line. Nothing is rounded. */
export function costAmounts(job: CompleteJob, used: Consumption): Record<CostLineKey, number> {
  const { quantity, part, process, labour, charges, rates } = job;
  const perSecond = rates.labourPerHour / 3600;
  const areaM2 = used.areaMm2 * 1e-6;
  const amounts = {
    setup: labour.setupS * perSecond,
    rackUnrack: quantity * (labour.rackS + labour.unrackS) * perSecond,
    masking:
      quantity * total(part.masks.map((mask) => mask.count * (mask.timeS * perSecond + mask.materialCost))),
    lineTime: used.lineHours * rates.linePerHour,
    dcEnergy: used.dcKwh * rates.energyPerKwh,
    heating: used.heatKwh * rates.energyPerKwh,
    chemicals: total(
      process.chemicals.map((bath) => ((areaM2 * bath.consumptionGPerM2) / 1000) * bath.pricePerKg),
    ),
    dragOut: total(
      process.chemicals.map((bath) => {
        const lostKg =
          (areaM2 * bath.dragOutLPerM2 * bath.concentrationGPerL * (1 - bath.recoveryShare)) / 1000;
        return lostKg * bath.pricePerKg;
      }),
    ),
    rinseWater: (used.waterL / 1000) * rates.waterPerM3,
    waste: (used.waterL / 1000) * rates.wastePerM3,
    inspection: quantity * labour.inspectS * perSecond + charges.certificateCost,
    packing: quantity * labour.packS * perSecond + charges.packingCost,
    reworkAllowance: 0,
  };
  amounts.reworkAllowance = reworkFactor(job) * (repeatedCost(amounts) + areaM2 * rates.stripPerM2);
  return amounts;
}

/** Rounds of rework to expect for each piece. */
const reworkFactor = ({ rates: { reworkShare, reworkMayFailAgain } }: CompleteJob): number =>
  reworkMayFailAgain ? reworkShare / (1 - reworkShare) : reworkShare;

export const repeatedCost = (amounts: Record<CostLineKey, number>): number =>
  total(REPEATED.map((key) => amounts[key]));
