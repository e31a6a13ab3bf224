import {
  may,
  type EvidenceVerdict,
  type ExceptionPlace,
  type Role,
  type UnprovedWord,
} from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import type { Db, SqlExecutor } from '../../db/client.ts';
import { fieldError, DomainError } from '../../kernel/refusal.ts';
import { personOfPin } from '../../core/people/index.ts';
import { addException } from './exception-queries.ts';
import { judgeEvidence } from './judge.ts';

/** Who answers for work that no evidence proves, and why. */
export interface ProvedWord {
  personId: number;
  displayName: string;
  reason: string;
}

/**
 * Proves the word that work goes on without evidence: of whoever is signed in, or of somebody else by PIN. It is called
 * before the transaction of the work, in which a wrong PIN would be forgotten again.
 *
 * @example
 * const word = await proveWord(db, { actor, word: body.unproved, path: 'unproved' });
 */
export async function proveWord(
  db: Db,
  { actor, word, path }: { actor: Actor; word: UnprovedWord | null | undefined; path: string },
): Promise<ProvedWord | null> {
  if (word === null || word === undefined) return null;
  const by =
    word.by === null ? actor : await personOfPin(db, { ...word.by, actor, path: within(path, 'by.pin') });
  refuseWithoutRight(by, path);
  return { personId: by.personId, displayName: by.displayName, reason: word.reason };
}

/** Refuses whoever may not answer for work without evidence. */
export function refuseWithoutRight(by: { displayName: string; roles: readonly Role[] }, path: string): void {
  if (may(by.roles, 'evidence.override')) return;
  throw new DomainError('not-allowed', `${by.displayName} may not allow work that no evidence proves.`, {
    issues: [{ path: within(path, 'by'), message: 'must be somebody in the lab, in quality or an owner' }],
  });
}

const within = (path: string, field: string) => (path === '' ? field : `${path}.${field}`);

interface Wanted {
  recipeRevisionId: number;
  materialId: number;
  /** The part, whose zones have to be proved too; null where only a material is asked about. */
  partId: number | null;
  alloy?: { name: string; condition: string; baseMetal: string };
  /** What the evidence is asked for: `R-00007 on B-1200`. */
  what: string;
  recordNumber: string;
  quotationRevisionId?: number;
  lotId?: number;
  stepId?: number;
}

const recordOf = ({ what: _, alloy: __, partId: ___, ...record }: Wanted) => record;

/**
 * The gate: what is proved goes on; what is not goes on by somebody's proved word alone, which is kept with what the
 * evidence said at that moment. All that is not proved is named at once. Returns the verdicts in the order asked.
 *
 * @example
 * await passGate(tx.execute, { actor, place: 'release', word, wanted });
 */
export async function passGate(
  execute: SqlExecutor,
  options: {
    actor: { personId: number };
    place: ExceptionPlace;
    word: ProvedWord | null;
    wanted: readonly Wanted[];
  },
): Promise<EvidenceVerdict[]> {
  const { actor, place, word, wanted } = options;
  const verdicts = await judgeEvidence(execute, wanted);
  const unproved = wanted.flatMap((one, index) => {
    const verdict = verdicts[index];
    return verdict === undefined || verdict.state === 'proved' ? [] : [{ ...one, verdict }];
  });
  if (unproved.length === 0) {
    if (word !== null) throw fieldError('unproved', 'is not needed: the evidence proves it');
    return verdicts;
  }
  if (word === null) {
    const findings = [...new Set(unproved.map(({ what, verdict }) => `${what}: ${verdict.words}`))];
    throw new DomainError(
      'not-proved',
      `${findings.join('. ')}. It takes somebody in the lab, in quality or an owner, with a reason.`,
      { issues: [{ path: 'unproved', message: 'is needed: who answers for it, and why' }] },
    );
  }
  for (const { verdict, ...one } of unproved) {
    await addException(execute, {
      ...recordOf(one),
      place,
      finding: verdict.words,
      reason: word.reason,
      allowedById: word.personId,
      askedById: actor.personId,
    });
  }
  return verdicts;
}
