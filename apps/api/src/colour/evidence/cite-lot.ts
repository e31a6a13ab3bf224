import type { ColourGrade, EvidenceKind } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import type { Tx } from '../../db/client.ts';
import { DomainError } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { aboutRecipe, checkComparers, checkExpiry, openRevision } from './cite.ts';
import { alloyInWords } from './judge.ts';
import * as queries from './queries.ts';

/** What a lot hands in: a higher wing knows lots, this one does not. */
export interface LotFacts {
  lotId: number;
  lotNumber: string;
  recipeRevisionId: number;
  materialId: number;
  /** As it was when the lot was released. */
  material: { name: string; condition: string; baseMetal: string };
  /** Accepted pieces. */
  pieces: number;
}
/** The instrument as it was called then; a higher wing knows whether its calibration was overdue. */
export interface MeasuredWith {
  instrumentId: number | null;
  instrument: string;
  instrumentOverdue: boolean;
}
export interface LotColour {
  kind: Exclude<EvidenceKind, 'coupons' | 'elsewhere'>;
  grade: ColourGrade;
  comparerIds: readonly number[];
  instrument: MeasuredWith;
  lab: { L: number; a: number; b: number } | null;
  note: string;
  expiresOn: string | null;
}

/**
 * Makes a passed lot evidence of the very revision it was run on, for its alloy in its condition.
 *
 * @example
 * await citeLot(tx, { actor, lot, colour: { kind: 'first-article', grade: 'compared', comparerIds: [3, 4], … } });
 */
export async function citeLot(
  tx: Tx,
  { actor, lot, colour }: { actor: Actor; lot: LotFacts; colour: LotColour },
): Promise<void> {
  const revision = await openRevision(tx, lot.recipeRevisionId);
  const cited = await queries.readEvidence(tx.execute, [revision.id]);
  if (cited.some((row) => row.lot?.id === lot.lotId && row.withdrawn === null))
    throw new DomainError('already-exists', `${lot.lotNumber} is evidence of ${revision.number} already.`);
  const { name, condition, baseMetal } = lot.material;
  await queries.addEvidence(tx, {
    ...{ revisionId: revision.id, kind: colour.kind, grade: colour.grade, materialId: lot.materialId },
    ...{ alloy: name, condition, baseMetal, seriesId: null, lotId: lot.lotId, lotNumber: lot.lotNumber },
    ...{ pieces: lot.pieces, ...colour.instrument, note: colour.note },
    ...(await checkComparers(tx, { comparerIds: colour.comparerIds, path: 'comparerIds' })),
    ...{ labL: colour.lab?.L ?? null, labA: colour.lab?.a ?? null, labB: colour.lab?.b ?? null },
    expiresOn: await checkExpiry(tx, colour.expiresOn),
    ...{ citedInDraft: false, citedById: actor.personId },
  });
  await writeAudit(tx.execute, actor, {
    ...aboutRecipe(revision),
    action: `made ${lot.lotNumber} a ${colour.kind === 'first-article' ? 'first article' : 'trial lot'} of revision ${revision.revision}: ${alloyInWords(lot.material)}, ${lot.pieces} pieces`,
  });
}
