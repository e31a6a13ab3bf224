import { checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';
import { type Conformity, judgeConformity } from '../quality/judge-conformity.ts';

export interface SealTest {
  /** Dry, before it goes into the acid. */
  massBeforeG: number;
  /** Rinsed and dried. */
  massAfterG: number;
  /** Of one weighing, standard. */
  weighingUncertaintyG: number;
  /** Of the sealed coating. */
  areaMm2: number;
  areaUncertaintyMm2: number;
  acidTemperatureC: number;
  immersionMin: number;
}

export interface SealLoss {
  lossMgPerDm2: number;
  standardUncertaintyMgPerDm2: number;
  limitMgPerDm2: number;
  /** `warn` is inside the limit, and too close to it to be sure. */
  verdict: Conformity;
  flags: string[];
}

/** At most; ISO 7599 with ISO 3210 (from memory). */
const LIMIT_MG_PER_DM2 = 30;
/** 38 ± 1 °C for 15 minutes (ISO 3210, from memory). */
const METHOD = { temperatureC: 38, within: 1, minutes: 15, withinMin: 0.25 };
/** A coating of 25 µm weighs some 700: more than this is a slip of a unit. */
const MOST_MG_PER_DM2 = 1000;

/**
 * How much mass a sealed anodic coating loses in acid, by area, and whether its seal passes: well sealed it loses little. The guard
 * band is the expanded uncertainty (k = 2), inside the limit of 30 mg/dm².
 *
 * Masses above 0 to 100,000 g, area 100 to 1e8 mm², acid 0 to 100 °C, immersion above 0 to 600 min; uncertainties standard. A test
 * at another temperature or time is flagged: the limit does not hold for it. The acid dissolves the coating and not its metal; cut
 * edges without a coating make the loss too large.
 * Source: ISO 3210 (loss of mass in phosphoric acid, or with chromic acid) for the method, ISO 7599 for the limit (both from memory);
 * JCGM 100:2008 (GUM) 5.1 for the uncertainty; {@link judgeConformity} for the verdict.
 * Errors: `impossible` for a piece that got no lighter, or that lost more than any coating weighs; `not-finite`, `out-of-range`.
 *
 * @example
 * sealLoss({ massBeforeG: 27.2154, massAfterG: 27.1954, weighingUncertaintyG: 0.0001, areaMm2: 10_000, areaUncertaintyMm2: 100, acidTemperatureC: 38, immersionMin: 15 })
 * // { lossMgPerDm2: 20, standardUncertaintyMgPerDm2: 0.2449, verdict: 'pass', flags: [] }
 */
export function sealLoss(test: SealTest): SealLoss {
  const mass = { above: 0, max: 100_000 };
  const before = checkNumber('massBeforeG', test.massBeforeG, mass);
  const after = checkNumber('massAfterG', test.massAfterG, mass);
  const weighing = checkNumber('weighingUncertaintyG', test.weighingUncertaintyG, { above: 0, max: 1000 });
  const area = checkNumber('areaMm2', test.areaMm2, { min: 100, max: 1e8 });
  const areaU = checkNumber('areaUncertaintyMm2', test.areaUncertaintyMm2, { min: 0, max: area });
  const temperatureC = checkNumber('acidTemperatureC', test.acidTemperatureC, { min: 0, max: 100 });
  const minutes = checkNumber('immersionMin', test.immersionMin, { above: 0, max: 600 });

  const lostG = before - after;
  const lossMgPerDm2 = (lostG * 1000) / (area / 10_000);
  if (!(lostG > 0) || lossMgPerDm2 > MOST_MG_PER_DM2) {
    throw new CalcError({
      ...{ code: 'impossible', argument: 'massAfterG', given: after },
      allowed:
        lostG > 0
          ? `at most ${MOST_MG_PER_DM2} mg/dm² less than before: no coating weighs more`
          : 'less than the mass before: the acid only takes',
    });
  }
  const standardUncertaintyMgPerDm2 =
    lossMgPerDm2 * Math.hypot((Math.SQRT2 * weighing) / lostG, areaU / area);
  const { verdict } = judgeConformity({
    ...{ value: lossMgPerDm2, upperLimit: LIMIT_MG_PER_DM2, guardFactor: 1 },
    expandedUncertainty: 2 * standardUncertaintyMgPerDm2,
  });
  const isOff =
    Math.abs(temperatureC - METHOD.temperatureC) > METHOD.within ||
    Math.abs(minutes - METHOD.minutes) > METHOD.withinMin;
  return {
    ...{ lossMgPerDm2, standardUncertaintyMgPerDm2, limitMgPerDm2: LIMIT_MG_PER_DM2, verdict },
    flags: isOff ? ['the limit holds for 15 minutes at 38 ± 1 °C: this was another test'] : [],
  };
}
