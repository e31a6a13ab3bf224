import type { EvidenceVerdict, Quotation, QuotedEvidence } from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import { judgeEvidence, passGate, type ProvedWord } from '../../colour/evidence/index.ts';
import { keepEvidence } from './queries.ts';

const toQuoted = ({ evidence: _, ...verdict }: EvidenceVerdict, word: ProvedWord | null): QuotedEvidence => ({
  ...verdict,
  allowed: word === null || verdict.state === 'proved' ? null : { by: word.displayName, reason: word.reason },
});

/** A draft shows how the evidence of each line stands now; what was sent shows what it was sent with. */
export async function withEvidence(execute: SqlExecutor, quotation: Quotation): Promise<Quotation> {
  const { shown } = quotation;
  if (shown.status !== 'draft' || shown.lines.length === 0) return quotation;
  const verdicts = await judgeEvidence(execute, shown.lines.map(wantedBy));
  const lines = shown.lines.map((line, index) => {
    const verdict = verdicts[index];
    return { ...line, evidence: verdict === undefined ? null : toQuoted(verdict, null) };
  });
  return { ...quotation, shown: { ...shown, lines } };
}

const wantedBy = ({ recipe, part, materialId }: Quotation['shown']['lines'][number]) => ({
  recipeRevisionId: recipe.revisionId,
  partId: part.id,
  materialId,
});

/**
 * Lets a draft leave the house: a line that no evidence proves goes by somebody's word alone, subject to a first article.
 * What the evidence said is kept with each line, for its page and its paper.
 */
export async function passQuotation(
  execute: SqlExecutor,
  { actor, word, quotation }: { actor: { personId: number }; word: ProvedWord | null; quotation: Quotation },
): Promise<void> {
  const { shown, number } = quotation;
  const verdicts = await passGate(execute, {
    ...{ actor, place: 'quotation', word },
    wanted: shown.lines.map((line) => ({
      ...wantedBy(line),
      what: `${line.recipe.number} rev ${line.recipe.revision} for ${line.part.number}`,
      recordNumber: `${number} rev ${shown.revision}`,
      quotationRevisionId: shown.id,
    })),
  });
  for (const [index, { id }] of shown.lines.entries()) {
    const verdict = verdicts[index];
    if (verdict !== undefined) await keepEvidence(execute, id, toQuoted(verdict, word));
  }
}
