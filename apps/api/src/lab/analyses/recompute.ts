import { CALC_VERSION } from '@huelot/calc';
import type { standardiseTitrant } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { lockBath, readSetupRevision, bumpBathVersion } from '../baths/index.ts';
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
  {
    actor,
    titrantId,
    input,
  }: {
    actor: Actor;
    titrantId: number;
    input: z.output<typeof standardiseTitrant.body>;
  },
): Promise<Reply> {
  return inTransaction(db, async (tx) => {
    const { standardisationId, label } = await addStrength(tx, { actor, titrantId, input });
    const stale =
      input.replacesId === null ? [] : await queries.readTitratedWith(tx.execute, input.replacesId);
    const recomputed: Reply['recomputed'] = [];
    for (const row of stale) {
      const reason = `strength of ${label} corrected: ${input.reason.trim()}`;
      recomputed.push(await recompute(tx, { actor, row, reason, standardisationId, strength: input }));
    }
    return { titrant: await rereadTitrant(tx, titrantId), recomputed };
  });
}

async function recompute(
  tx: Tx,
  options: {
    actor: Actor;
    row: queries.AnalysisRow;
    reason: string;
    standardisationId: number;
    strength: { eqPerLitre: number; standardUncertaintyEqPerLitre: number };
  },
): Promise<Reply['recomputed'][number]> {
  const { row, reason } = options;
  const bathId = row.bath.id;
  await lockBath(tx.execute, bathId);
  const setup = await readSetupRevision(tx.execute, { bathId, revision: row.setupRevision });
  const { results, ...computed } = computeAnalysis({
    readings: row.readings,
    settings: row.settings,
    titrant: options.strength,
    setup,
  });
  const number = await nextNumber(tx.execute, 'analysis');
  const id = await writing.addAnalysis(
    tx.execute,
    {
      ...row,
      outside: null,
      ...computed,
      // What was asked of the record that it takes the place of was answered there.
      questions: [...new Set([...row.questions, ...computed.questions])],
      number,
      bathId,
      methodId: row.method.id,
      standardisationId: options.standardisationId,
      instrumentId: row.instrument?.id ?? null,
      calcVersion: CALC_VERSION,
      supersedesId: row.id,
      supersedeReason: reason,
    },
    results,
  );
  await bumpBathVersion(tx.execute, bathId);
  await writeAudit(tx.execute, options.actor, {
    kind: 'analysis',
    id,
    number,
    action: `recalculated in place of ${row.number}`,
    reason,
  });
  return { id, number, supersedes: row.number };
}
