import { sameZone, zonesToRead, type LotColour } from '@huelot/contracts';
import type { z } from 'zod';
import type { Queryable, SqlExecutor } from '../../db/client.ts';
import { DomainError, orNotFound } from '../../kernel/refusal.ts';
import { readAgreedOfLot, type AgreedOfLot } from './agreed.ts';
import * as queries from './queries.ts';

/** What was agreed of a lot's colour, what it was, and what still stands in the way of accepting it. */
export async function viewLotColour(db: Queryable, lotId: number): Promise<z.input<typeof LotColour>> {
  const lot = orNotFound(await queries.readLotFacts(db.execute, lotId, { lock: false }), `lot ${lotId}`);
  const agreedOfLot = await readAgreedOfLot(db.execute, lotId);
  const { guardFactor } = await queries.readRule(db);
  return {
    ...agreedOfLot,
    guardFactor,
    colourStep: lot.colourStep,
    missing: await missingColour(db.execute, lot, agreedOfLot),
    pictures: await queries.readPictures(db.execute, lot.partId),
    readings: await queries.readReadings(db.execute, lotId),
  };
}

/**
 * Why pieces of a lot cannot be accepted for their colour, in a sentence; empty where nothing stands in the way. Every place
 * with a standard is read since the last rework, and where the part asks for its colour at both, once more after the last step.
 */
async function missingColour(
  execute: SqlExecutor,
  lot: queries.LotFacts,
  agreedOfLot: AgreedOfLot,
): Promise<string> {
  const since = agreedOfLot.readAt === 'both' ? (lot.lastSignedAt ?? lot.reworkSince) : lot.reworkSince;
  const decided = await queries.readDecided(execute, { lotId: lot.id, since });
  const open = placeToRead(agreedOfLot, decided);
  if (open === null) return '';
  const { zone, agreed } = open;
  const how =
    agreed.target === null ? 'two people compare it' : 'an instrument measures it, or two people compare it';
  const when =
    agreedOfLot.readAt === 'both'
      ? ' after its last step'
      : lot.reworkSince === null
        ? ''
        : ' since its rework';
  return `The part of lot ${lot.number} asks for the colour ${agreed.code}${zone === '' ? '' : ` in its zone ${zone}`}, and no reading${when} decides about it: ${how} before pieces are accepted.`;
}

/** The first place of a piece that no reading decides about. */
const placeToRead = (agreedOfLot: AgreedOfLot, decided: readonly string[]) =>
  zonesToRead(agreedOfLot).find(
    ({ zone }) =>
      !decided.some((read) =>
        // A zone without a standard of its own has the colour of the part; a part without zones has one place.
        zone === ''
          ? !zonesToRead(agreedOfLot).some((other) => other.zone !== '' && sameZone(other.zone, read))
          : sameZone(zone, read),
      ),
  ) ?? null;

/**
 * Refuses to accept pieces whose part asks for a colour that nobody read.
 *
 * @example
 * if (acceptedCount > 0) await checkColourRead(tx.execute, lot.id);
 */
export async function checkColourRead(execute: SqlExecutor, lotId: number): Promise<void> {
  const lot = orNotFound(await queries.readLotFacts(execute, lotId, { lock: false }), `lot ${lotId}`);
  const missing = await missingColour(execute, lot, await readAgreedOfLot(execute, lotId));
  if (missing !== '')
    throw new DomainError('conflict', missing, {
      issues: [{ path: 'acceptedCount', message: 'must be 0 until the colour is read' }],
    });
}

/**
 * Refuses to sign what comes after a colour step while the part asks for its colour at the tank and nobody read it there.
 *
 * @example
 * await checkColourAtTank(execute, { lotId: step.lotId, kind: step.kind });
 */
export async function checkColourAtTank(
  execute: SqlExecutor,
  { lotId, kind }: { lotId: number; kind: string },
): Promise<void> {
  if (kind === 'colour') return;
  const agreedOfLot = await readAgreedOfLot(execute, lotId);
  if (agreedOfLot.readAt === 'check') return;
  const lot = orNotFound(await queries.readLotFacts(execute, lotId, { lock: false }), `lot ${lotId}`);
  if (lot.colourStep === null) return;
  const decided = await queries.readDecided(execute, {
    lotId,
    since: lot.reworkSince,
    colourSignOffId: lot.colourStep.id,
  });
  const open = placeToRead(agreedOfLot, decided);
  if (open === null) return;
  throw new DomainError(
    'conflict',
    `The part of lot ${lot.number} asks for its colour at the tank: read ${open.agreed.code}${open.zone === '' ? '' : ` in the zone ${open.zone}`} after ${lot.colourStep.title}, before the next step is signed.`,
  );
}
