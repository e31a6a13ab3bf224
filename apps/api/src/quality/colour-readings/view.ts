import type { LotColour } from '@huelot/contracts';
import type { z } from 'zod';
import { readStandardOfPart, type StandardInForce } from '../../catalog/colour-standards/index.ts';
import type { Queryable, SqlExecutor } from '../../db/client.ts';
import { DomainError, orNotFound } from '../../kernel/refusal.ts';
import * as queries from './queries.ts';

/** What was agreed of a lot's colour, what it was, and what still stands in the way of accepting it. */
export async function viewLotColour(db: Queryable, lotId: number): Promise<z.input<typeof LotColour>> {
  const lot = orNotFound(await queries.readLotFacts(db.execute, lotId, { lock: false }), `lot ${lotId}`);
  const agreed = await readStandardOfPart(db.execute, lot.partId);
  const { guardFactor } = await queries.readRule(db);
  return {
    agreed,
    guardFactor,
    colourStep: lot.colourStep,
    missing: await missingColour(db.execute, lot, agreed),
    pictures: await queries.readPictures(db.execute, lot.partId),
    readings: await queries.readReadings(db.execute, lotId),
  };
}

/** Why pieces of a lot cannot be accepted for their colour, in a sentence; empty where nothing stands in the way. */
async function missingColour(
  execute: SqlExecutor,
  lot: queries.LotFacts,
  agreed: StandardInForce | null,
): Promise<string> {
  if (agreed === null) return '';
  const decided = await queries.readDecided(execute, { lotId: lot.id, since: lot.reworkSince });
  if (decided > 0) return '';
  const how =
    agreed.target === null ? 'two people compare it' : 'an instrument measures it, or two people compare it';
  return `The part of lot ${lot.number} asks for the colour ${agreed.code}, and no reading${lot.reworkSince === null ? '' : ' since its rework'} decides about it: ${how} before pieces are accepted.`;
}

/**
 * Refuses to accept pieces whose part asks for a colour that nobody read.
 *
 * @example
 * if (acceptedCount > 0) await checkColourRead(tx.execute, lot.id);
 */
export async function checkColourRead(execute: SqlExecutor, lotId: number): Promise<void> {
  const lot = orNotFound(await queries.readLotFacts(execute, lotId, { lock: false }), `lot ${lotId}`);
  const missing = await missingColour(execute, lot, await readStandardOfPart(execute, lot.partId));
  if (missing !== '')
    throw new DomainError('conflict', missing, {
      issues: [{ path: 'acceptedCount', message: 'must be 0 until the colour is read' }],
    });
}
