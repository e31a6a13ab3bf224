import { checkName, checkWhole } from '../check.ts';
import { type Severity, SEVERITIES } from './plan-tables.ts';

export interface InspectedLot {
  accepted: boolean;
  /** Reduced inspection only: accepted with a count between Ac and Re. */
  inGap?: boolean;
  /** A lot offered again after rejection; such lots count in no rule. */
  resubmitted?: boolean;
  /** Nonconforming pieces or nonconformities found in the sample; needed for a limit number. */
  found?: number;
  /** Acceptance number in use and whether the lot would also pass at the next tighter AQL; for the switching score. */
  ac?: number;
  passesTighterAql?: boolean;
  /** Production became irregular with this lot, or something else calls for normal inspection. */
  irregular?: boolean;
}

export interface SwitchingRules {
  /** Severity the first lot of the history was inspected at; normal unless given. */
  start?: Severity;
  scheme?: 'MIL-STD-105E' | 'ISO 2859-1';
  /** Production is steady and the responsible person wants reduced inspection. */
  reducedAgreed?: boolean;
  /** MIL-STD-105E table VIII: most that the samples of the last ten lots together may hold. */
  limitNumber?: number;
}

export interface NextSeverity {
  severity: Severity | 'stopped';
  /** Why the last change happened; null when there was none. */
  because: string | null;
  /** Lots in a row that count towards the way back or to reduced inspection, and the score where the scheme has one. */
  acceptedInARow: number;
  switchingScore: number | null;
  flags: string[];
}

const SCHEMES = ['MIL-STD-105E', 'ISO 2859-1'] as const;
const FROM_MEMORY =
  'switching score and stop rule of ISO 2859-1 are from memory: check them against the standard';

interface State {
  severity: Severity | 'stopped';
  because: string | null;
  /** First submissions since the last change. */
  lots: readonly InspectedLot[];
  score: number;
}

/**
 * Inspection severity for the next lot, replayed from the results of all lots so far, oldest first.
 *
 * Normal to tightened: two of five or fewer consecutive lots rejected on first submission. Tightened to normal: five in a
 * row accepted. Normal to reduced, only where agreed: ten in a row accepted with no more found in their samples than the
 * limit number (MIL-STD-105E), or a switching score of 30 (ISO 2859-1). Reduced to normal: a lot rejected, accepted in
 * the gap between Ac and Re, or irregular production. Inspection stops after ten consecutive lots on tightened
 * (MIL-STD-105E) or five lots rejected there (ISO 2859-1); then the process is put right and a new history started.
 * Source: MIL-STD-105E (1989) 4.7; score and stop rule of ISO 2859-1:1999 from memory, flagged.
 * Errors: `unknown` for a scheme or severity, `out-of-range` for a count or acceptance number.
 *
 * @example
 * nextSeverity([{ accepted: false }, { accepted: true }, { accepted: false }])
 * // { severity: 'tightened', because: '2 of 5 or fewer consecutive lots rejected' }
 */
export function nextSeverity(history: readonly InspectedLot[], rules: SwitchingRules = {}): NextSeverity {
  const scheme = checkName('scheme', rules.scheme ?? 'MIL-STD-105E', SCHEMES);
  const start = checkName('start', rules.start ?? 'normal', SEVERITIES);
  if (rules.limitNumber !== undefined) checkWhole('limitNumber', rules.limitNumber, { min: 0 });

  const iso = scheme === 'ISO 2859-1';
  const last = history
    .map(checkLot)
    .filter((lot) => !lot.resubmitted)
    .reduce((state, lot) => afterLot({ state, lot, rules, iso }), fresh(start, null));
  return {
    severity: last.severity,
    because: last.because,
    acceptedInARow: inARow(last.lots),
    switchingScore: iso && last.severity === 'normal' ? last.score : null,
    flags: iso ? [FROM_MEMORY] : [],
  };
}

function checkLot(lot: InspectedLot, index: number): InspectedLot {
  if (lot.found !== undefined) checkWhole(`history[${index}].found`, lot.found, { min: 0 });
  if (lot.ac !== undefined) checkWhole(`history[${index}].ac`, lot.ac, { min: 0 });
  return lot;
}

const fresh = (severity: State['severity'], because: string | null): State => ({
  severity,
  because,
  lots: [],
  score: 0,
});

function afterLot({
  state,
  lot,
  rules,
  iso,
}: {
  state: State;
  lot: InspectedLot;
  rules: SwitchingRules;
  iso: boolean;
}): State {
  const lots = [...state.lots, lot];
  const score = scoreAfter(state.score, lot);
  const next = { ...state, lots, score };
  const rejected = (recent: readonly InspectedLot[]) => recent.filter(({ accepted }) => !accepted).length;

  switch (state.severity) {
    case 'normal':
      if (rejected(lots.slice(-5)) >= 2)
        return fresh('tightened', '2 of 5 or fewer consecutive lots rejected');
      if (rules.reducedAgreed && iso && score >= 30) return fresh('reduced', 'switching score reached 30');
      if (rules.reducedAgreed && !iso && withinLimit(lots, rules.limitNumber)) {
        return fresh('reduced', 'last 10 lots accepted and within the limit number');
      }
      return next;
    case 'tightened':
      if (inARow(lots) >= 5) return fresh('normal', '5 consecutive lots accepted');
      if (iso && rejected(lots) >= 5) return fresh('stopped', '5 lots rejected on tightened inspection');
      if (!iso && lots.length >= 10) return fresh('stopped', '10 consecutive lots on tightened inspection');
      return next;
    case 'reduced':
      if (!lot.accepted) return fresh('normal', 'a lot rejected on reduced inspection');
      if (lot.inGap) return fresh('normal', 'a count between Ac and Re on reduced inspection');
      if (lot.irregular) return fresh('normal', 'production irregular');
      return next;
    case 'stopped':
      return state;
  }
}

/** Lots accepted since the last rejection. */
const inARow = (lots: readonly InspectedLot[]): number =>
  lots.length - 1 - lots.findLastIndex(({ accepted }) => !accepted);

function withinLimit(lots: readonly InspectedLot[], limitNumber: number | undefined): boolean {
  const ten = lots.slice(-10);
  if (limitNumber === undefined || ten.length < 10 || inARow(ten) < 10) return false;
  // A lot without its count cannot vouch for the total.
  const total = ten.reduce((sum, { found }) => sum + (found ?? Infinity), 0);
  return total <= limitNumber;
}

function scoreAfter(score: number, { accepted, ac = 0, passesTighterAql }: InspectedLot): number {
  if (!accepted) return 0;
  if (ac <= 1) return score + 2;
  return passesTighterAql ? score + 3 : 0;
}
