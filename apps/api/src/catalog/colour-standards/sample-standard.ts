import { NewColourStandard } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import type { Tx } from '../../db/client.ts';
import { startStandard } from './drafts.ts';
import * as queries from './queries.ts';

/**
 * The standard of a customer that names a sample, as a table of parts does: the one there is, else a draft of a new one.
 * Nobody has approved it then, and nothing is promised by it.
 *
 * @example
 * const standardId = await standardOfSample(tx, { actor, customerId, sample: 'plate S-14' });
 */
export async function standardOfSample(
  tx: Tx,
  { actor, customerId, sample }: { actor: Actor; customerId: number; sample: string },
): Promise<number> {
  const known = await queries.findSample(tx.execute, { customerId, sample });
  if (known !== null) return known;
  const { standardId } = await startStandard(tx, {
    actor,
    input: NewColourStandard.parse({
      code: await queries.nextSampleCode(tx.execute),
      ...{ customerId, name: sample.slice(0, 100), target: null, light: null, dark: null, conditions: null },
      ...{ instrument: '', tolerance: null, sample: { name: sample, keptAt: '' }, grade: 'compared' },
      ...{ agreedBy: '', agreedOn: null, expiresOn: null, photoId: null, notes: '', changeNote: '' },
    }),
  });
  return standardId;
}
