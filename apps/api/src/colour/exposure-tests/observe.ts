import {
  isCorroded,
  type ExposureCorrection,
  type ExposureObservation,
  type NewExposureObservation,
} from '@huelot/contracts';
import { writeAudit } from '../../core/audit/index.ts';
import { keepFiles, readFilesFor } from '../../core/files/index.ts';
import { type Db, inTransaction, type Tx } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError, fieldError, orNotFound } from '../../kernel/refusal.ts';
import { dayOf } from './days.ts';
import { aboutTest } from './plan.ts';
import type { StoredObservation, StoredVerdict } from './specimen-queries.ts';
import { openTest } from './run.ts';
import * as stored from './specimen-queries.ts';
import { readObservation, readStored } from './view.ts';

/** Two looks at a specimen within this are one look that two people entered. */
const ONE_LOOK_MS = 10 * 60_000;

/** Keeps what was seen of a specimen. It stands; what was wrong about it is corrected beside it. */
export function observe(
  db: Db | Tx,
  {
    actor,
    specimenId,
    input,
    now = new Date(),
  }: { actor: Actor; specimenId: number; input: NewExposureObservation; now?: Date },
): Promise<ExposureObservation> {
  return inTransaction(db, async (tx) => {
    const specimen = orNotFound(
      await stored.lockSpecimen(tx.execute, specimenId),
      `specimen ${specimenId} of an exposure test`,
    );
    const test = await openTest(tx, specimen.testId);
    if (new Date(input.seenAt) <= new Date(test.startedAt))
      throw fieldError('seenAt', `must be after ${test.startedAt}, when the test started`);
    const { day } = await dayOf(tx.execute, {
      ...{ at: input.seenAt, now, field: 'seenAt', timeZone: test.timeZone },
    });
    checkVerdict(input);
    checkAgainst(await stored.readObservationsOfSpecimen(tx.execute, specimenId), input);
    if (input.photoId !== null) await takePhoto(tx, { actor, photoId: input.photoId });
    const { id } = await stored.addObservation(tx, {
      ...{ input, day, testId: test.id, specimenId, seenById: actor.personId, enteredAt: now },
    });
    await writeAudit(tx.execute, actor, {
      ...aboutTest(test),
      action: `looked at ${specimen.mark}: ${wordsOf(input)}${input.takenOut ? ', taken out' : ''}`,
    });
    return readObservation(tx.execute, id);
  });
}

/** Says beside an observation what it should have said. */
export function correctObservation(
  db: Db,
  { actor, id, input, now = new Date() }: { actor: Actor; id: number; input: ExposureCorrection; now?: Date },
): Promise<ExposureObservation> {
  return inTransaction(db, async (tx) => {
    await stored.lockObservation(tx.execute, id);
    const row = orNotFound(await stored.readObservation(tx.execute, id), `observation ${id}`);
    checkVerdict(input);
    const { verdict, defectAreaPercent, note } = counting(row);
    if (input.verdict === verdict && input.defectAreaPercent === defectAreaPercent && input.note === note)
      throw fieldError('verdict', 'is what the observation says already');
    await stored.addCorrection(tx, {
      ...input,
      ...{ observationId: id, correctedById: actor.personId, correctedAt: now },
    });
    await writeAudit(tx.execute, actor, {
      ...aboutTest(await readStored(tx.execute, row.testId)),
      action: `corrected what was seen on ${row.day}`,
      changes: [{ field: 'verdict', old: wordsOf(counting(row)), new: wordsOf(input) }],
      reason: input.reason,
    });
    return readObservation(tx.execute, id);
  });
}

const counting = (row: StoredObservation): StoredVerdict => row.corrections.at(-1) ?? row;
const wordsOf = ({ verdict, defectAreaPercent }: StoredVerdict) =>
  verdict.replaceAll('-', ' ') + (defectAreaPercent === null ? '' : ` ${defectAreaPercent} %`);

function checkVerdict({ verdict, defectAreaPercent }: StoredVerdict): void {
  if (verdict === 'corroded' && defectAreaPercent === null)
    throw fieldError('defectAreaPercent', 'must be filled in: how much of the surface is corroded');
  if (!isCorroded(verdict) && defectAreaPercent !== null)
    throw fieldError('defectAreaPercent', 'must be empty where no corrosion was seen');
}

const order = { 'no-change': 0, stain: 1, 'first-corrosion': 2, corroded: 3 } as const;
const isBetter = (one: StoredVerdict, other: StoredVerdict) =>
  order[one.verdict] < order[other.verdict] ||
  (isCorroded(one.verdict) && (one.defectAreaPercent ?? Infinity) < (other.defectAreaPercent ?? 0));

function checkAgainst(seen: readonly StoredObservation[], input: NewExposureObservation): void {
  const at = new Date(input.seenAt).getTime();
  const out = seen.find((one) => one.takenOut);
  if (out !== undefined && new Date(out.seenAt).getTime() < at)
    throw new DomainError('conflict', `The specimen was taken out on ${out.day}.`);
  if (input.takenOut && seen.some(({ seenAt }) => new Date(seenAt).getTime() > at))
    throw fieldError('takenOut', 'must not be chosen: the specimen was looked at later');
  const same = seen.find(({ seenAt }) => Math.abs(new Date(seenAt).getTime() - at) < ONE_LOOK_MS);
  if (same !== undefined)
    throw new DomainError(
      'conflict',
      `${same.seenBy} looked at it at ${same.seenAt} already, and saw ${wordsOf(counting(same))}. Correct that where it is wrong.`,
    );
  const worse = seen.find((one) => new Date(one.seenAt).getTime() < at && isBetter(input, counting(one)));
  if (worse !== undefined && input.note.trim() === '')
    throw fieldError(
      'note',
      `must say why: on ${worse.day} it was ${wordsOf(counting(worse))}, and metal does not heal`,
    );
}

/** Takes a picture of the sender's own that nothing else shows. */
async function takePhoto(tx: Tx, { actor, photoId }: { actor: Actor; photoId: number }): Promise<void> {
  const [file] = await readFilesFor(tx.execute, { actor, ids: [photoId] });
  if (file === undefined) throw fieldError('photoId', `there is no file ${photoId}`);
  if (!file.mediaType.startsWith('image/')) throw fieldError('photoId', `${file.name} is no picture`);
  const use = await stored.readPhotoUse(tx.execute, photoId);
  if (use !== null)
    throw fieldError('photoId', `is the picture of ${use.mark} in ${use.number} on ${use.day} already`);
  await keepFiles(tx.execute, [photoId]);
}
