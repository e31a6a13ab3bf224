import { CALC_VERSION, resultDoubts, resultQuestion } from '@huelot/calc';
import { type Analysis, type NewAnalysis, titrationKinds } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { orNotFound, fieldError, DomainError } from '../../kernel/refusal.ts';
import { checkCompetence } from '../../catalog/competence/index.ts';
import { writeAudit } from '../../core/audit/index.ts';
import {
  type BathRow,
  closeAnswered,
  lockBath,
  readBath,
  readSetupRevision,
  readSetupsOf,
  bumpBathVersion,
} from '../baths/index.ts';
import { keepFiles, readFilesFor } from '../../core/files/index.ts';
import { usableInstrument } from '../instruments/index.ts';
import { readMethod, readTitrant, toTitrant } from '../methods/index.ts';
import { analysisBackground } from './background.ts';
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
  { actor, bathId, input }: { actor: Actor; bathId: number; input: NewAnalysis },
): Promise<Analysis> {
  return inTransaction(db, async (tx) => {
    await lockBath(tx.execute, bathId);
    const bath = orNotFound(await readBath(tx.execute, bathId), `bath ${bathId}`);
    return viewAnalysis(tx.execute, await write(tx, { actor, bath, input, corrects: null }));
  });
}

/** Records an analysis in place of another, which stays and is marked as superseded. */
export function correctAnalysis(
  db: Db,
  options: { actor: Actor; id: number; input: NewAnalysis & { reason: string } },
): Promise<Analysis> {
  const { actor, id } = options;
  const { reason, ...input } = options.input;
  return inTransaction(db, async (tx) => {
    const bathId = orNotFound(await queries.readAnalysis(tx.execute, id), `analysis ${id}`).bath.id;
    await lockBath(tx.execute, bathId);
    const row = orNotFound(await queries.readAnalysis(tx.execute, id), `analysis ${id}`);
    if (row.supersededBy !== null)
      throw new DomainError(
        'conflict',
        `${row.number} was corrected already by ${row.supersededBy.number}: correct that one.`,
      );
    if (row.voidedAt !== null)
      throw new DomainError('immutable', `${row.number} was voided: record a new analysis instead.`);
    const bath = orNotFound(await readBath(tx.execute, bathId), `bath ${bathId}`);
    return viewAnalysis(tx.execute, await write(tx, { actor, bath, input, corrects: { row, reason } }));
  });
}

async function write(
  tx: Tx,
  {
    actor,
    bath,
    input,
    corrects,
  }: { actor: Actor; bath: BathRow; input: NewAnalysis; corrects: Corrects | null },
): Promise<number> {
  checkTimes(bath, input);
  await checkCompetence(tx.execute, {
    ...{ activity: 'analyse', subjectId: bath.id, person: actor, at: new Date(input.analysedAt) },
  });
  const method = await methodFor(tx, input, corrects);
  const standardisation = await strengthFor(tx, input);
  if (input.instrumentId !== null && input.instrumentId !== corrects?.row.instrument?.id)
    await usableInstrument(tx.execute, { instrumentId: input.instrumentId, path: 'instrumentId' });
  const setup =
    corrects === null
      ? ((await readSetupsOf(tx.execute, [bath.id])).get(bath.id) ?? null)
      : await readSetupRevision(tx.execute, { bathId: bath.id, revision: corrects.row.setupRevision });
  await checkReport(tx, actor, input);
  const { results, ...computed } = computeAnalysis({
    readings: input.readings,
    settings: method.settings,
    titrant: standardisation,
    setup,
  });
  const background = await analysisBackground(tx.execute, {
    bath,
    setup,
    sampledAt: new Date(input.sampledAt),
    correctsId: corrects?.row.id ?? null,
  });
  const questions = [...computed.questions, ...resultDoubts({ results, background }).map(resultQuestion)];
  if (questions.length > 0 && input.answer.trim() === '')
    throw fieldError('answer', `is needed, because of a question: ${questions.join('; ')}`);
  const number = await nextNumber(tx.execute, 'analysis');
  const id = await writing.addAnalysis(
    tx.execute,
    {
      ...input,
      ...computed,
      questions,
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
  await closeAnswered(tx.execute, {
    bathId: bath.id,
    analysisId: id,
    personId: actor.personId,
    sampledAt: new Date(input.sampledAt),
    components: results.map(({ component }) => component),
  });
  await bumpBathVersion(tx.execute, bath.id);
  await writeAudit(tx.execute, actor, {
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
    throw fieldError('sampledAt', 'is in the future by the server’s clock');
  if (analysed > Date.now() + CLOCKS_MS)
    throw fieldError('analysedAt', 'is in the future by the server’s clock');
  if (analysed < sampled) throw fieldError('analysedAt', 'is before the sample was taken');
  if (sampled < bath.madeUpAt.getTime() - CLOCKS_MS)
    throw fieldError('sampledAt', `is before ${bath.number} was made up`);
  if (bath.dumpedAt !== null && sampled > bath.dumpedAt.getTime())
    throw new DomainError('immutable', `${bath.number} was dumped: nothing can be sampled from it any more.`);
}

/** The revision in force; a correction may keep the revision that was used then. */
async function methodFor(tx: Tx, input: NewAnalysis, corrects: Corrects | null) {
  const method = await readMethod(tx.execute, input.methodId);
  if (method === null) throw fieldError('methodId', `there is no method ${input.methodId}`);
  if (method.status !== 'in-force' && corrects?.row.method.id !== method.id)
    throw fieldError(
      'methodId',
      `${method.code} revision ${method.revision} is not in force (${method.status})`,
    );
  if (method.kind !== input.readings.kind)
    throw fieldError('readings.kind', `must be ${method.kind}, as ${method.code} says`);
  return method;
}

async function strengthFor(tx: Tx, { readings, titrantId }: NewAnalysis) {
  const needed = (titrationKinds as readonly string[]).includes(readings.kind);
  if (!needed) {
    if (titrantId !== null)
      throw fieldError('titrantId', 'must be empty: this kind of analysis has no titrant');
    return null;
  }
  if (titrantId === null) throw fieldError('titrantId', 'must be filled in: which bottle was titrated with');
  const row = await readTitrant(tx.execute, titrantId);
  if (row === null) throw fieldError('titrantId', `there is no titrant ${titrantId}`);
  const isAcid = !readings.kind.startsWith('sulfuric') && readings.kind !== 'phosphoric';
  if (['NaOH', 'KOH'].includes(row.reagent) === isAcid)
    throw fieldError(
      'titrantId',
      `${row.label} is ${row.reagent}: this needs ${isAcid ? 'an acid' : 'a caustic'}`,
    );
  return toTitrant(row).current;
}

/** Figures are read off a report as found; its file is there, to be looked at, and then stays. */
async function checkReport(tx: Tx, actor: Actor, { readings, outside }: NewAnalysis): Promise<void> {
  if (!outside) return;
  if (readings.kind !== 'plain')
    throw fieldError(
      'outside',
      'must be empty: only figures entered as found come from an outside laboratory',
    );
  if (Date.parse(outside.reportedOn) > Date.now() + DAY_MS)
    throw fieldError('outside.reportedOn', 'is in the future');
  if (outside.fileId === null) return;
  const [file] = await readFilesFor(tx.execute, { actor, ids: [outside.fileId] });
  if (file === undefined) throw fieldError('outside.fileId', `there is no file ${outside.fileId}`);
  if (file.mediaType !== 'application/pdf' && !/^image\/(?:png|jpeg|webp)$/.test(file.mediaType))
    throw fieldError('outside.fileId', `${file.name} is neither a PDF nor a picture`);
  await keepFiles(tx.execute, [outside.fileId]);
}
