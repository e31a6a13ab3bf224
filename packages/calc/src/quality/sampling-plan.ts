import { checkName, checkWhole } from '../check.ts';
import { CalcError } from '../errors.ts';
import { CODE_LETTERS, INSPECTION_LEVELS, type InspectionLevel } from './data/code-letters.ts';
import { type Aql, AQLS, planAt, SEVERITIES, type Severity } from './plan-tables.ts';

export interface SamplingPlan {
  /** Code letter for lot size and level, before any arrow. */
  firstLetter: string;
  /** Code letter of the plan in use, after the arrows. */
  letter: string;
  /** Sample size of that plan as printed. */
  n: number;
  /** Pieces to inspect: n, or the whole lot when it is not larger. */
  inspect: number;
  /** Accept the lot at this count or fewer. */
  ac: number;
  /** Reject the lot at this count or more. */
  re: number;
  aql: Aql;
  /** Edition and number of the table the figures are from. */
  table: string;
  flags: string[];
}

const TABLE_NAMES: Record<Severity, string> = {
  normal: 'MIL-STD-105E (1989) table II-A, single sampling, normal',
  tightened: 'MIL-STD-105E (1989) table II-B, single sampling, tightened',
  reduced: 'MIL-STD-105E (1989) table II-C, single sampling, reduced',
};

/**
 * Single sampling plan for inspection by attributes: how many pieces of a lot to inspect, and at which count of
 * nonconforming pieces (or nonconformities) to accept or reject it. Where the cell for the lot's letter is an arrow, the
 * sample size moves with the acceptance number.
 *
 * `lotSize` is in pieces, 1 or more; `aql` is one of the 26 printed values, as text or number: percent nonconforming or
 * nonconformities per 100 pieces up to 10, only the latter above. In reduced inspection `re` may exceed `ac` by more
 * than one: a count between the two accepts this lot and ends reduced inspection.
 * Source: MIL-STD-105E (1989), tables I and II-A to II-C; the normal and tightened plans are also those of ISO 2859-1.
 * Errors: `out-of-range` for a lot size that is no whole number of pieces, `unknown` for a level, AQL or severity that the
 * tables do not print.
 *
 * @example
 * samplingPlan({ lotSize: 200, level: 'II', aql: '1.0', severity: 'normal' })
 * // { firstLetter: 'G', letter: 'H', n: 50, inspect: 50, ac: 1, re: 2 }
 */
export function samplingPlan(input: {
  lotSize: number;
  level: InspectionLevel;
  aql: Aql | number;
  severity: Severity;
}): SamplingPlan {
  const lotSize = checkWhole('lotSize', input.lotSize, { min: 1 });
  const level = checkName('level', input.level, INSPECTION_LEVELS);
  const severity = checkName('severity', input.severity, SEVERITIES);
  const aql = printedAql(input.aql);

  const firstLetter = codeLetter(lotSize, level);
  const plan = planAt({ severity, letter: firstLetter, aql });
  return {
    firstLetter,
    ...plan,
    inspect: Math.min(plan.n, lotSize),
    aql,
    table: TABLE_NAMES[severity],
    flags: [
      ...(lotSize === 1 ? ['a lot of one is below the table, which starts at 2: inspect the piece'] : []),
      ...(plan.n >= lotSize ? ['the sample is the whole lot: inspect every piece'] : []),
      ...(plan.re > plan.ac + 1
        ? [`a count above ${plan.ac} and below ${plan.re} accepts this lot and ends reduced inspection`]
        : []),
    ],
  };
}

function codeLetter(lotSize: number, level: InspectionLevel): string {
  const row = CODE_LETTERS.find(({ upTo }) => lotSize <= upTo);
  return row?.letters[INSPECTION_LEVELS.indexOf(level)] ?? '';
}

/** 1 and '1.0' mean the same column; anything the tables do not print is refused, never rounded. */
function printedAql(value: unknown): Aql {
  const aql = AQLS.find((key) => key === value || Number(key) === value);
  if (!aql) throw new CalcError({ code: 'unknown', argument: 'aql', given: value, allowed: AQLS.join(', ') });
  return aql;
}
