import type { IssuedPaper } from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import * as queries from './queries.ts';

/** The papers of some records as their page lists them; `pathOf` says where one is downloaded, below `/api`. */
export async function viewPapers(
  execute: SqlExecutor,
  {
    kind,
    recordIds,
    pathOf,
  }: {
    kind: queries.PaperOf['kind'];
    recordIds: readonly number[];
    pathOf: (paper: { recordId: number; issue: number }) => string;
  },
): Promise<{ items: IssuedPaper[] }> {
  const rows = await queries.readPapers(execute, { kind, recordIds });
  return {
    items: rows.map(({ recordId, ...row }) => ({
      ...row,
      issuedAt: row.issuedAt.toISOString(),
      path: pathOf({ recordId, issue: row.issue }),
    })),
  };
}
