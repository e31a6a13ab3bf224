/**
 * What a trial showed: no film worth having; interference colours; the gold to brown of a thin dark film; a dark film
 * (black, grey); aluminium that took dye; or a fault: etched, spotted, powdery, or metal that went into the bath and
 * coloured it.
 */
export type TrialOutcome =
  | 'none'
  | 'etched'
  | 'spotted'
  | 'powdery'
  | 'bath-coloured'
  | 'interference'
  | 'gold-brown'
  | 'dark'
  | 'dyed';

/** In the order in which the less is claimed first where two are as likely. */
export const trialOutcomes: readonly TrialOutcome[] = [
  ...(['none', 'etched', 'spotted', 'powdery', 'bath-coloured'] as const),
  ...(['interference', 'gold-brown', 'dark', 'dyed'] as const),
];

/** Told apart wherever anything was tried; any other only where a trial showed it. */
export const commonOutcomes: readonly TrialOutcome[] = ['none', 'interference', 'dark'];

/** What an outcome is worth: a colour, nothing, or a fault of the surface or the bath. */
export type OutcomeKind = 'nothing' | 'colour' | 'fault';

const kinds: Record<TrialOutcome, OutcomeKind> = {
  none: 'nothing',
  etched: 'fault',
  spotted: 'fault',
  powdery: 'fault',
  'bath-coloured': 'fault',
  interference: 'colour',
  'gold-brown': 'colour',
  dark: 'colour',
  dyed: 'colour',
};

/**
 * Whether an outcome of a trial is a colour, nothing, or a fault. A fault is tested ground, but whatever colour was read on
 * it is none to aim at: it is mixed into no colour and holds no limit.
 *
 * `outcome` one of those of {@link TrialOutcome}.
 * Source: definition.
 *
 * @example
 * outcomeKind('powdery') // 'fault'
 */
export const outcomeKind = (outcome: TrialOutcome): OutcomeKind => kinds[outcome];

/**
 * Whether an outcome of a trial is a colour that somebody may aim at.
 *
 * `outcome` one of those of {@link TrialOutcome}.
 * Source: definition.
 *
 * @example
 * isColourOutcome('spotted') // false
 */
export const isColourOutcome = (outcome: TrialOutcome): boolean => kinds[outcome] === 'colour';
