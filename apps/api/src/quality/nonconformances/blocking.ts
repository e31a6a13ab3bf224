import { faultNames } from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import { readOfLot, type LotNonconformance } from './queries.ts';

const words = ({ number, fault, piecesAffected }: LotNonconformance) =>
  `${number}, ${piecesAffected} ${piecesAffected === 1 ? 'piece' : 'pieces'}, ${faultNames[fault]}`;

/** Pieces of a lot that must not be shipped, because nobody decided about them yet, and the nonconformances that say so. */
export async function readBlockedPieces(
  execute: SqlExecutor,
  lotId: number,
): Promise<{ pieces: number; numbers: string[] }> {
  const blocking = (await readOfLot(execute, lotId)).filter(
    ({ state, isApart, undecided }) => state === 'open' && !isApart && undecided > 0,
  );
  return {
    pieces: blocking.reduce((sum, { undecided }) => sum + undecided, 0),
    numbers: blocking.map(({ number }) => number),
  };
}

/**
 * What a certificate of the lot has to say about its nonconformances: pieces that nobody decided about stand in its way, but for
 * those that were rejected before; everything else the signer writes about.
 */
export async function readCertificateFindings(
  execute: SqlExecutor,
  lotId: number,
): Promise<{ obstacles: string[]; concerns: string[] }> {
  const rows = await readOfLot(execute, lotId);
  const inTheWay = rows.filter(
    ({ state, undecided, isApart, foundAt }) =>
      state === 'open' && undecided > 0 && (!isApart || foundAt === 'customer'),
  );
  return {
    obstacles: inTheWay.map(
      (row) => `Nonconformance ${words(row)}: open, and nobody decided about its pieces.`,
    ),
    concerns: rows
      .filter((row) => !inTheWay.includes(row))
      .map((row) => `Nonconformance ${words(row)}: ${row.state}.`),
  };
}
