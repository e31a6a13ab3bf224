import { CALC_VERSION } from '@huelot/calc';
import type { standardiseTitrant } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { answerOnce } from '../../http/once.ts';
import type { OnceKey } from '../../http/route.ts';
import { record } from '../audit/index.ts';
import { lockBath, readSetupRevision, touchBath } from '../baths/index.ts';
import { addStrength, rereadTitrant } from '../methods/index.ts';
import { computeAnalysis } from './compute.ts';
import * as queries from './queries.ts';
import * as writing from './write-queries.ts';

type Reply = z.output<typeof standardiseTitrant.reply>;

/**
 * Books a strength of a titrant. A correction works every analysis that used the wrong one out again from its raw
 * readings, by the method and the limits of its time; the new ones supersede, the old ones stay.
 */
export function standardise(
  db: Db,
  of: {
    actor: Actor;
    titrantId: number;
    input: z.output<typeof standardiseTitrant.body>;
    once: OnceKey | null;
  },
): Promise<Reply> {
  const { actor, titrantId, input, once } = of;
  return inTransaction(db, (tx) =>
    answerOnce({ run: tx.run, personId: actor.personId, once }, async () => {
      const { standardisationId, label } = await addStrength(tx, { actor, titrantId, input });
      const stale = input.replacesId === null ? [] : await queries.readTitratedWith(tx.run, input.replacesId);
      const recomputed: Reply['recomputed'] = [];
      for (const row of stale) {
        const reason = `strength of ${label} corrected: ${input.reason.trim()}`;
        recomputed.push(await recompute(tx, { actor, row, reason, standardisationId, strength: input }));
      }
      return { titrant: await rereadTitrant(tx, titrantId), recomputed };
    }),
  );
}

async function recompute(
  tx: Tx,
  of: {
    actor: Actor;
    row: queries.AnalysisRow;
    reason: string;
    standardisationId: number;
    strength: { eqPerLitre: number; standardUncertaintyEqPerLitre: number };
  },
): Promise<Reply['recomputed'][number]> {
  const { row, reason } = of;
  const bathId = row.bath.id;
  await lockBath(tx.run, bathId);
  const setup = await readSetupRevision(tx.run, { bathId, revision: row.setupRevision });
  const { results, ...computed } = computeAnalysis({
    readings: row.readings,
    settings: row.settings,
    titrant: of.strength,
    setup,
  });
  const number = await nextNumber(tx.run, 'analysis');
  const id = await writing.addAnalysis(
    tx.run,
    {
      ...row,
      outside: null,
      ...computed,
      number,
      bathId,
      methodId: row.method.id,
      standardisationId: of.standardisationId,
      instrumentId: row.instrument?.id ?? null,
      calcVersion: CALC_VERSION,
      supersedesId: row.id,
      supersedeReason: reason,
    },
    results,
  );
  await touchBath(tx.run, bathId);
  await record(tx.run, of.actor, {
    kind: 'analysis',
    id,
    number,
    action: `computed again in place of ${row.number}`,
    reason,
  });
  return { id, number, supersedes: row.number };
}
