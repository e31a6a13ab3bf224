import { CALC_VERSION, CalcError, filmResult, thicknessDoubts } from '@huelot/calc';
import type {
  CouponSeries,
  CouponTrial,
  FilmMeasurement,
  FilmResult,
  NewFilmMeasurement,
} from '@huelot/contracts';
import { writeAudit } from '../../core/audit/index.ts';
import { keepFiles, readFiles, toStoredFile } from '../../core/files/index.ts';
import { type Db, inTransaction, type SqlExecutor, type Tx } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError, fieldError, orNotFound } from '../../kernel/refusal.ts';
import { readCouponSeries, readToday } from '../coupons/index.ts';
import { checkPicture } from './pictures.ts';
import * as queries from './queries.ts';

/** One measurement with what was read, or a refusal that there is none. */
export async function readMeasurement(execute: SqlExecutor, id: number): Promise<FilmMeasurement> {
  const { fileId, ...row } = orNotFound(await queries.readMeasurement(execute, id), `film measurement ${id}`);
  const [file] = fileId === null ? [] : await readFiles(execute, [fileId]);
  return { ...row, file: file === undefined ? null : toStoredFile(file) };
}

/** Keeps a measurement with what it gives, under the next number; in the place of another where one is named. */
export function keepMeasurement(
  db: Db,
  {
    actor,
    input,
    replaces,
  }: { actor: Actor; input: NewFilmMeasurement; replaces: { id: number; reason: string } | null },
): Promise<FilmMeasurement> {
  return inTransaction(db, async (tx) => {
    const old = replaces === null ? null : await replaceable(tx, replaces.id);
    const series = await seriesOf(tx.execute, input.seriesId);
    const coupon = couponOf(series, input.mark);
    await checkDay(tx.execute, input.measuredOn, coupon);
    if (input.evidence.kind === 'seal-loss' && series.material.baseMetal !== 'aluminium')
      throw fieldError('evidence.kind', 'must be another: only coatings on aluminium are sealed');
    const result = resultOf(input);
    if (old !== null && old.result.kind !== result.kind)
      throw fieldError('evidence.kind', `must stay ${old.result.kind}, as in ${old.number}`);
    await checkPicture(tx.execute, { actor, input });
    const doubts = await doubtsAbout(tx.execute, {
      result,
      code: series.code,
      mark: input.mark,
      without: old?.id,
    });
    if (doubts.length > 0 && !input.isConfirmed)
      throw fieldError(
        'isConfirmed',
        `In doubt: ${doubts.join('; ')}. Look at the units again, or confirm that it is so`,
      );
    const { mark, measuredOn, laboratory, instrument, evidence, fileId, note } = input;
    const { id } = await queries.addMeasurement(tx, {
      ...{ mark, measuredOn, laboratory, instrument, evidence, fileId, note, coupon, result, doubts },
      ...{ seriesCode: series.code, materialId: series.material.id },
      ...{ enteredById: actor.personId, calcVersion: CALC_VERSION, isWithdrawal: false },
      ...{ number: await nextNumber(tx.execute, 'film-measurement') },
      ...{ replacesId: old?.id ?? null, reason: replaces?.reason ?? '' },
    });
    if (fileId !== null) await keepFiles(tx.execute, [fileId]);
    return audited(tx, {
      actor,
      id,
      action: old === null ? 'entered' : `entered in the place of ${old.number}`,
    });
  });
}

/** Takes a measurement back: by a row of its own, which repeats it and says why. */
export function withdrawMeasurement(
  db: Db,
  { actor, id, reason }: { actor: Actor; id: number; reason: string },
): Promise<FilmMeasurement> {
  return inTransaction(db, async (tx) => {
    const { file, coupon, measuredOn, laboratory, instrument, evidence, result, note, ...old } =
      await replaceable(tx, id);
    const { id: withdrawalId } = await queries.addMeasurement(tx, {
      ...{ coupon, measuredOn, laboratory, instrument, evidence, result, note, reason, doubts: [] },
      ...{ seriesCode: old.series.code, mark: old.mark, materialId: old.material.id },
      ...{ fileId: file?.id ?? null, replacesId: id, isWithdrawal: true },
      ...{ enteredById: actor.personId, calcVersion: old.calcVersion },
      number: await nextNumber(tx.execute, 'film-measurement'),
    });
    return audited(tx, { actor, id: withdrawalId, action: `took back ${old.number}` });
  });
}

async function audited(
  tx: Tx,
  { actor, id, action }: { actor: Actor; id: number; action: string },
): Promise<FilmMeasurement> {
  const kept = await readMeasurement(tx.execute, id);
  await writeAudit(tx.execute, actor, {
    ...{ kind: 'film-measurement', id, number: kept.number, action },
    ...(kept.reason === '' ? {} : { reason: kept.reason }),
  });
  return kept;
}

async function replaceable({ execute }: Tx, id: number): Promise<FilmMeasurement> {
  await queries.lockMeasurement(execute, id);
  const old = await readMeasurement(execute, id);
  if (old.replacedBy !== null)
    throw new DomainError(
      'conflict',
      `${old.number} was ${old.replacedBy.isWithdrawal ? 'taken back' : 'replaced'} already, by ${old.replacedBy.number}.`,
    );
  if (old.isWithdrawal)
    throw new DomainError(
      'conflict',
      `${old.number} takes ${old.replaces?.number ?? 'another'} back: it is final.`,
    );
  return old;
}

async function seriesOf(execute: SqlExecutor, seriesId: number): Promise<CouponSeries> {
  try {
    return await readCouponSeries(execute, seriesId);
  } catch (error) {
    if (!(error instanceof DomainError) || error.code !== 'not-found') throw error;
    throw fieldError('seriesId', `there is no coupon series ${seriesId}`);
  }
}

/** The one coupon of that mark: two of the same cannot be told apart later. */
function couponOf({ code, revision, trials }: CouponSeries, mark: string): CouponTrial {
  const [coupon, another] = trials.filter((trial) => trial.mark === mark);
  if (coupon === undefined)
    throw fieldError('mark', `there is no coupon ${mark} in ${code} revision ${revision}`);
  if (another !== undefined)
    throw fieldError(
      'mark',
      `there are two coupons ${mark} in ${code} revision ${revision}: mark them apart first`,
    );
  return coupon;
}

async function checkDay(execute: SqlExecutor, measuredOn: string, { madeOn }: CouponTrial): Promise<void> {
  if (measuredOn > (await readToday(execute))) throw fieldError('measuredOn', 'is in the future');
  if (measuredOn < madeOn) throw fieldError('measuredOn', `is before the coupon was made, on ${madeOn}`);
}

function resultOf({ evidence }: NewFilmMeasurement): FilmResult {
  try {
    return filmResult(evidence);
  } catch (error) {
    if (!(error instanceof CalcError)) throw error;
    throw fieldError(`evidence.${error.path.replace(/\.length$/, '')}`, error.rule);
  }
}

async function doubtsAbout(
  execute: SqlExecutor,
  {
    result,
    without,
    ...coupon
  }: { result: FilmResult; code: string; mark: string; without: number | undefined },
): Promise<string[]> {
  if (!('thicknessNm' in result)) return [];
  const others = await queries.readOfCoupon(execute, coupon);
  return thicknessDoubts({
    thicknessNm: result.thicknessNm,
    othersNm: others.flatMap((one) =>
      one.id !== without && 'thicknessNm' in one.result ? [one.result.thicknessNm] : [],
    ),
  });
}
