import type { ColourStandard, ColourStandardItem } from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import { getFile } from '../../core/files/index.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import * as queries from './queries.ts';

const iso = (date: Date | null) => date?.toISOString() ?? null;

/** How a list shows a standard. */
export const toItem = (row: queries.StandardRow): ColourStandardItem => ({
  ...row.colour,
  id: row.colour.revisionId,
  customer: row.customer,
  expired: row.expired,
  partCount: row.partCount,
  author: row.author,
  createdAt: row.createdAt.toISOString(),
  approvedBy: row.approvedBy,
  approvedAt: iso(row.approvedAt),
  selfApproved: row.selfApproved,
  takenOverFrom: row.takenOverFrom,
  version: row.version,
});

async function toStandard(execute: SqlExecutor, row: queries.StandardRow): Promise<ColourStandard> {
  const { standardId } = row.colour;
  return {
    ...toItem(row),
    photo: row.photoId === null ? null : await getFile(execute, row.photoId),
    notes: row.notes,
    changeNote: row.changeNote,
    writers: row.writers,
    endedAt: iso(row.endedAt),
    endReason: row.endReason,
    confirmation: row.confirmation,
    revisions: await queries.readRevisions(execute, standardId),
    parts: await queries.readParts(execute, standardId),
  };
}

/** A standard in the revision asked for, else the one in force, else the newest. */
export async function readColourStandard(
  execute: SqlExecutor,
  wanted: { id: number; revision?: number | undefined },
): Promise<ColourStandard> {
  const { id, revision } = wanted;
  const name = `${revision === undefined ? '' : `revision ${revision} of `}colour standard ${id}`;
  return toStandard(execute, orNotFound(await queries.readStandard(execute, wanted), name));
}

/** One revision by its own key. */
export async function readStandardRevision(
  execute: SqlExecutor,
  revisionId: number,
): Promise<ColourStandard> {
  const row = orNotFound(
    await queries.readRevision(execute, revisionId),
    `revision ${revisionId} of a colour standard`,
  );
  return toStandard(execute, row);
}
