import { CALC_VERSION } from '@huelot/calc';
import { type Analysis, type NewAnalysis, titrationKinds } from '@huelot/contracts';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { answerOnce } from '../../http/once.ts';
import type { OnceKey } from '../../http/route.ts';
import { found, invalid, Refusal } from '../../refusal.ts';
import { record } from '../audit/index.ts';
import {
  type BathRow,
  closeAnswered,
  lockBath,
  readBath,
  readSetupRevision,
  readSetupsOf,
  touchBath,
} from '../baths/index.ts';
import { keepFiles, readFiles } from '../files/index.ts';
import { readInstrument, readMethod, readTitrant, toTitrant } from '../methods/index.ts';
import { computeAnalysis } from './compute.ts';
import * as queries from './queries.ts';
import { viewAnalysis } from './view.ts';
import * as writing from './write-queries.ts';

/** Clocks of tablets and servers differ by less than this. */
const CLOCKS_MS = 5 * 60_000;
const DAY_MS = 86_400_000;

interface Corrects {
  row: queries.AnalysisRow;
  reason: string;
}

/** Records an analysis by its raw readings, and closes the requests that it answers. */
export function recordAnalysis(
  db: Db,
  of: { actor: Actor; bathId: number; input: NewAnalysis; once: OnceKey | null },
): Promise<Analysis> {
  const { actor, bathId, input, once } = of;
  return inTransaction(db, (tx) =>
    answerOnce({ run: tx.run, personId: actor.personId, once }, async () => {
      await lockBath(tx.run, bathId);
      const bath = found(await readBath(tx.run, bathId), `bath ${bathId}`);
      return viewAnalysis(tx.run, await write(tx, { actor, bath, input, corrects: null }));
    }),
  );
}

/** Records an analysis in place of another, which stays and is marked as superseded. */
export function correctAnalysis(
  db: Db,
  of: { actor: Actor; id: number; input: NewAnalysis & { reason: string }; once: OnceKey | null },
): Promise<Analysis> {
  const { actor, id, once } = of;
  const { reason, ...input } = of.input;
  return inTransaction(db, (tx) =>
    answerOnce({ run: tx.run, personId: actor.personId, once }, async () => {
      const bathId = found(await queries.readAnalysis(tx.run, id), `analysis ${id}`).bath.id;
      await lockBath(tx.run, bathId);
      const row = found(await queries.readAnalysis(tx.run, id), `analysis ${id}`);
      if (row.supersededBy !== null)
        throw new Refusal(
          'conflict',
          `${row.number} was corrected already by ${row.supersededBy.number}: correct that one.`,
        );
      const bath = found(await readBath(tx.run, bathId), `bath ${bathId}`);
      return viewAnalysis(tx.run, await write(tx, { actor, bath, input, corrects: { row, reason } }));
    }),
  );
}

async function write(
  tx: Tx,
  of: { actor: Actor; bath: BathRow; input: NewAnalysis; corrects: Corrects | null },
): Promise<number> {
  const { actor, bath, input, corrects } = of;
  checkTimes(bath, input);
  const method = await methodFor(tx, input, corrects);
  const standardisation = await strengthFor(tx, input);
  if (input.instrumentId !== null && (await readInstrument(tx.run, input.instrumentId)) === null)
    throw invalid('instrumentId', `there is no instrument ${input.instrumentId}`);
  const setup =
    corrects === null
      ? ((await readSetupsOf(tx.run, [bath.id])).get(bath.id) ?? null)
      : await readSetupRevision(tx.run, { bathId: bath.id, revision: corrects.row.setupRevision });
  await checkReport(tx, input);
  const { results, ...computed } = computeAnalysis({
    readings: input.readings,
    settings: method.settings,
    titrant: standardisation,
    setup,
  });
  if (computed.questions.length > 0 && input.answer.trim() === '')
    throw invalid('answer', `is needed, because of a question: ${computed.questions.join('; ')}`);
  const number = await nextNumber(tx.run, 'analysis');
  const id = await writing.addAnalysis(
    tx.run,
    {
      ...input,
      ...computed,
      number,
      bathId: bath.id,
      sampledAt: new Date(input.sampledAt),
      analysedAt: new Date(input.analysedAt),
      analystId: actor.personId,
      analystName: null,
      standardisationId: standardisation?.id ?? null,
      setupRevision: setup?.revision ?? null,
      calcVersion: CALC_VERSION,
      supersedesId: corrects?.row.id ?? null,
      supersedeReason: corrects?.reason ?? null,
    },
    results,
  );
  await closeAnswered(tx.run, {
    bathId: bath.id,
    analysisId: id,
    personId: actor.personId,
    sampledAt: new Date(input.sampledAt),
    components: results.map(({ component }) => component),
  });
  await touchBath(tx.run, bath.id);
  await record(tx.run, actor, {
    kind: 'analysis',
    id,
    number,
    action: corrects === null ? `recorded for ${bath.number}` : `recorded in place of ${corrects.row.number}`,
    reason: corrects?.reason ?? null,
  });
  return id;
}

function checkTimes(bath: BathRow, { sampledAt, analysedAt }: NewAnalysis): void {
  const [sampled, analysed] = [Date.parse(sampledAt), Date.parse(analysedAt)];
  if (sampled > Date.now() + CLOCKS_MS)
    throw invalid('sampledAt', 'lies in the future by the server’s clock');
  if (analysed > Date.now() + CLOCKS_MS)
    throw invalid('analysedAt', 'lies in the future by the server’s clock');
  if (analysed < sampled) throw invalid('analysedAt', 'lies before the sample was taken');
  if (sampled < bath.madeUpAt.getTime() - CLOCKS_MS)
    throw invalid('sampledAt', `lies before ${bath.number} was made up`);
  if (bath.dumpedAt !== null && sampled > bath.dumpedAt.getTime())
    throw new Refusal('frozen', `${bath.number} was dumped: nothing can be sampled from it any more.`);
}

/** The revision in force; a correction may keep the revision that was used then. */
async function methodFor(tx: Tx, input: NewAnalysis, corrects: Corrects | null) {
  const method = await readMethod(tx.run, input.methodId);
  if (method === null) throw invalid('methodId', `there is no method ${input.methodId}`);
  if (method.status !== 'in-force' && corrects?.row.method.id !== method.id)
    throw invalid(
      'methodId',
      `${method.code} revision ${method.revision} is not in force (${method.status})`,
    );
  if (method.kind !== input.readings.kind)
    throw invalid('readings.kind', `must be ${method.kind}, as ${method.code} says`);
  return method;
}

async function strengthFor(tx: Tx, { readings, titrantId }: NewAnalysis) {
  const needed = (titrationKinds as readonly string[]).includes(readings.kind);
  if (!needed) {
    if (titrantId !== null) throw invalid('titrantId', 'must be empty: this kind of analysis has no titrant');
    return null;
  }
  if (titrantId === null) throw invalid('titrantId', 'must be filled in: which bottle was titrated with');
  const row = await readTitrant(tx.run, titrantId);
  if (row === null) throw invalid('titrantId', `there is no titrant ${titrantId}`);
  const isAcid = !readings.kind.startsWith('sulfuric') && readings.kind !== 'phosphoric';
  if (['NaOH', 'KOH'].includes(row.reagent) === isAcid)
    throw invalid(
      'titrantId',
      `${row.label} is ${row.reagent}: this needs ${isAcid ? 'an acid' : 'a caustic'}`,
    );
  return toTitrant(row).current;
}

/** Figures are read off a report as found; its file is there, to be looked at, and then stays. */
async function checkReport(tx: Tx, { readings, outside }: NewAnalysis): Promise<void> {
  if (!outside) return;
  if (readings.kind !== 'plain')
    throw invalid('outside', 'must be empty: only figures entered as found come from an outside laboratory');
  if (Date.parse(outside.reportedOn) > Date.now() + DAY_MS)
    throw invalid('outside.reportedOn', 'lies in the future');
  if (outside.fileId === null) return;
  const [file] = await readFiles(tx.run, [outside.fileId]);
  if (file === undefined) throw invalid('outside.fileId', `there is no file ${outside.fileId}`);
  if (file.mediaType !== 'application/pdf' && !/^image\/(?:png|jpeg|webp)$/.test(file.mediaType))
    throw invalid('outside.fileId', `${file.name} is neither a PDF nor a picture`);
  await keepFiles(tx.run, [outside.fileId]);
}
