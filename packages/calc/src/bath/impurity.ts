import { checkNumber, checkWhole } from '../check.ts';
import { CalcError } from '../errors.ts';

interface Cut {
  gramsPerLitre: number;
  targetGramsPerLitre: number;
  /** Of the impurity in what is fed; default 0. */
  freshGramsPerLitre?: number;
  volumeL: number;
}

function checkCut(input: Cut): Required<Cut> {
  const gramsPerLitre = checkNumber('gramsPerLitre', input.gramsPerLitre, { min: 0, max: 1000 });
  const freshGramsPerLitre = checkNumber('freshGramsPerLitre', input.freshGramsPerLitre ?? 0, {
    min: 0,
    max: 1000,
  });
  const targetGramsPerLitre = checkNumber('targetGramsPerLitre', input.targetGramsPerLitre, {
    above: 0,
    max: 1000,
  });
  const volumeL = checkNumber('volumeL', input.volumeL, { above: 0 });
  if (freshGramsPerLitre >= targetGramsPerLitre && gramsPerLitre > targetGramsPerLitre) {
    throw new CalcError({
      code: 'impossible',
      argument: 'freshGramsPerLitre',
      given: freshGramsPerLitre,
      allowed: `less than the target of ${targetGramsPerLitre} g/L: no exchange reaches it`,
    });
  }
  return { gramsPerLitre, freshGramsPerLitre, targetGramsPerLitre, volumeL };
}

/**
 * Share of a bath to dump and refill so that an impurity (carbonate, dissolved metal) falls to its target. Fresh
 * liquor of the same density and strength is assumed; {@link planAddition} works out the refill itself.
 *
 * Valid for positive volume and target, concentrations to 1000 g/L. Zero when the target is already met. Pass the
 * uncertainty of the analysis and how many determinations stand behind it: one carbonate result by difference is
 * worth 10 to 15 %, and a dump should not hang on it (flagged).
 * Source: mass balance, f = (c - c*)/(c - c_fresh).
 * Errors: `impossible` when the fresh liquor is no better than the target; `out-of-range` or `not-finite`.
 *
 * @example
 * dumpShareForImpurity({ gramsPerLitre: 60, targetGramsPerLitre: 25, volumeL: 400, determinations: 2 })
 * // { share: 0.583333, dumpL: 233.333, flags: [] }
 */
export function dumpShareForImpurity(
  input: Cut & { standardUncertaintyGramsPerLitre?: number; determinations?: number },
): { share: number; dumpL: number; standardUncertaintyShare: number; flags: string[] } {
  const { gramsPerLitre, targetGramsPerLitre, freshGramsPerLitre, volumeL } = checkCut(input);
  const u = checkNumber('standardUncertaintyGramsPerLitre', input.standardUncertaintyGramsPerLitre ?? 0, {
    min: 0,
  });
  const determinations = checkWhole('determinations', input.determinations ?? 1, { min: 1 });
  const excess = gramsPerLitre - targetGramsPerLitre;
  if (excess <= 0) return { share: 0, dumpL: 0, standardUncertaintyShare: 0, flags: [] };
  const share = excess / (gramsPerLitre - freshGramsPerLitre);
  const flags: string[] = [];
  if (determinations === 1) flags.push('one determination only: confirm before dumping');
  if (excess < 2 * u)
    flags.push('the excess is within twice its standard uncertainty: confirm before dumping');
  return {
    share,
    dumpL: share * volumeL,
    standardUncertaintyShare:
      (u * (targetGramsPerLitre - freshGramsPerLitre)) / (gramsPerLitre - freshGramsPerLitre) ** 2,
    flags,
  };
}

/**
 * Bath volumes to bleed and feed, continuously and well mixed, until an impurity falls to its target.
 *
 * Valid for positive volume and target, concentrations to 1000 g/L. Zero when the target is already met. With a
 * flow in L/h the time is given too.
 * Source: mass balance, c = c_fresh + (c0 - c_fresh) exp(-Q t/V).
 * Errors: `impossible` when the feed is no better than the target; `out-of-range` or `not-finite`.
 *
 * @example
 * bleedAndFeed({ gramsPerLitre: 60, targetGramsPerLitre: 25, volumeL: 400 })
 * // { volumes: 0.875469, feedL: 350.187, hours: null }
 */
export function bleedAndFeed(input: Cut & { flowLPerH?: number }): {
  volumes: number;
  feedL: number;
  hours: number | null;
} {
  const { gramsPerLitre, targetGramsPerLitre, freshGramsPerLitre, volumeL } = checkCut(input);
  const flow = input.flowLPerH === undefined ? null : checkNumber('flowLPerH', input.flowLPerH, { above: 0 });
  const met = gramsPerLitre <= targetGramsPerLitre;
  const volumes = met
    ? 0
    : Math.log((gramsPerLitre - freshGramsPerLitre) / (targetGramsPerLitre - freshGramsPerLitre));
  const feedL = volumes * volumeL;
  return { volumes, feedL, hours: flow === null ? null : feedL / flow };
}
