import { nextSeverity, type SamplingPlan, type Severity } from '@huelot/calc';
import type { inspectLot, LotInspection } from '@huelot/contracts';
import type { z } from 'zod';
import { signature, writeAudit } from '../../core/audit/index.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError, fieldError, orNotFound } from '../../kernel/refusal.ts';
import { usableInstrument } from '../../lab/instruments/index.ts';
import { lockLot } from '../../production/lots/index.ts';
import { readInspection, viewInspection } from './lot.ts';
import * as queries from './queries.ts';

type Input = z.output<typeof inspectLot.body>;

/** Writes down what was found of one characteristic of a lot that waits for its final check. */
export function inspect(
  db: Db,
  { actor, lotId, input }: { actor: Actor; lotId: number; input: Input },
): Promise<LotInspection> {
  return inTransaction(db, async (tx) => {
    const lot = orNotFound(await lockLot(tx.execute, lotId), `lot ${lotId}`);
    if (lot.status !== 'finished' || lot.travelerId === null)
      throw new DomainError(
        'conflict',
        `Lot ${lot.number} is ${lot.status}: inspection comes after the last step.`,
      );
    const { part } = await readInspection(tx.execute, lotId);
    await queries.lockPart(tx, part);
    const state = await readInspection(tx.execute, lotId);
    const about = state.characteristics.find(({ row }) => row.id === input.characteristicId);
    if (about === undefined)
      throw fieldError('characteristicId', 'is no characteristic of the plan in force');
    const { row, severity, plan, records } = about;
    checkTurn({ name: row.name, severity, records, isScreening: input.isScreening });
    const instrumentOverdue = await isOverdue(tx, input.instrumentId);
    const sample =
      input.isScreening || plan === null ? everyPiece(state.lotSize) : ofPlan(plan, severity as Severity);
    checkCounts(input, { lotSize: state.lotSize, least: sample.sampleSize });
    const verdict = sample.severity === null || input.found < sample.re ? 'accepted' : 'rejected';
    const { id } = await queries.addRecord(tx, {
      ...{ customerId: part.customerId, partNumber: part.partNumber },
      ...{
        lotId,
        travelerId: lot.travelerId,
        characteristicId: row.id,
        name: row.name,
        lotSize: state.lotSize,
      },
      ...sample,
      ...{ inspected: input.inspected, found: input.found, verdict, isScreening: input.isScreening },
      ...{
        instrumentId: input.instrumentId,
        instrumentOverdue,
        notes: input.notes,
        inspectedById: actor.personId,
      },
    });
    if (sample.severity !== null)
      await moveSeverity(tx, { actor, inspectionId: id, part, row, was: severity });
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'lot', id: lotId, number: lot.number, reason: input.notes || null },
      action: `inspected ${row.name}: ${input.found} of ${input.inspected} found, ${verdict}`,
      changes: signature(actor, 'inspected'),
    });
    return viewInspection(tx, lotId);
  });
}

const everyPiece = (lotSize: number) =>
  ({ severity: null, letter: null, planTable: null, sampleSize: lotSize, ac: 0, re: 1 }) as const;

const ofPlan = ({ letter, inspect: sampleSize, ac, re, table }: SamplingPlan, severity: Severity) => ({
  ...{ severity, letter, planTable: table, sampleSize, ac, re },
});

function checkTurn({
  name,
  severity,
  records,
  isScreening,
}: {
  name: string;
  severity: string;
  records: readonly { verdict: string; isScreening: boolean }[];
  isScreening: boolean;
}): void {
  const first = records.find((record) => !record.isScreening);
  if (isScreening) {
    if (first?.verdict !== 'rejected')
      throw fieldError(
        'isScreening',
        `every piece is looked at after a sample was rejected; that of ${name} was not`,
      );
    if (records.some((record) => record.isScreening))
      throw new DomainError('conflict', `Every piece was looked at for ${name} already.`);
    return;
  }
  if (first !== undefined)
    throw new DomainError('conflict', `${name} of this traveler was inspected already.`);
  if (severity === 'stopped')
    throw new DomainError(
      'conflict',
      `Inspection of ${name} is discontinued: put the process right, and take it up again on the part.`,
    );
}

function checkCounts(
  { inspected, found }: Input,
  { lotSize, least }: { lotSize: number; least: number },
): void {
  if (inspected < least || inspected > lotSize)
    throw fieldError(
      'inspected',
      least === lotSize
        ? `must be ${lotSize}: every piece is looked at`
        : `must be ${least} to ${lotSize} pieces`,
    );
  if (found > inspected) throw fieldError('found', `must be at most ${inspected}, the pieces inspected`);
}

/** Whether the instrument is overdue today; refuses one that failed its calibration or is not in use. */
async function isOverdue(tx: Tx, instrumentId: number | null): Promise<boolean> {
  if (instrumentId === null) return false;
  const path = 'instrumentId';
  const { code, archivedAt, calibrationOverdue } = await usableInstrument(tx.execute, { instrumentId, path });
  if (archivedAt !== null) throw fieldError(path, `${code} is not in use any more`);
  return calibrationOverdue;
}

/** The switching rules, replayed over every sample since inspection was last taken up; a move is written with its cause. */
async function moveSeverity(
  tx: Tx,
  {
    actor,
    inspectionId,
    part: { customerId, partNumber },
    row: { name, limitNumber },
    was,
  }: {
    actor: Actor;
    inspectionId: number;
    part: queries.PartKey;
    row: queries.CharacteristicRow;
    was: string;
  },
): Promise<void> {
  const history = await queries.readHistory(tx.execute, { customerId, partNumber, name });
  const { severity, because } = nextSeverity(
    history.map(({ verdict, found, ac, re, resubmitted }) => ({
      ...{ accepted: verdict === 'accepted', found, ac, resubmitted },
      inGap: found > ac && found < re,
    })),
    {
      start: history[0]?.severity ?? 'normal',
      ...(limitNumber === null ? {} : { reducedAgreed: true, limitNumber }),
    },
  );
  if (severity === was) return;
  await queries.addMove(tx, {
    ...{ customerId, partNumber, name, inspectionId, byId: actor.personId },
    ...{ was: was as Severity, severity, because: because ?? 'the plan changed' },
  });
}
