import type { AgreedColour } from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import * as queries from './queries.ts';

export { approveStandard } from './approval.ts';
export { startStandard } from './drafts.ts';
export { standardOfSample } from './sample-standard.ts';
export { readColourStandard } from './views.ts';

/** What a part must look like, by the approved revision in force; `expired` where its last day is over. */
export type StandardInForce = AgreedColour & { expired: boolean };

/**
 * The colour standard in force for a part: the approved revision of the standard it points to, or null where it points to
 * none or none of its revisions is approved. An expired one is returned and says so: what to do then is the caller's.
 *
 * @example
 * const standard = await readStandardOfPart(tx.execute, lot.partId);
 */
export const readStandardOfPart = (execute: SqlExecutor, partId: number): Promise<StandardInForce | null> =>
  queries.readOfPart(execute, partId);
