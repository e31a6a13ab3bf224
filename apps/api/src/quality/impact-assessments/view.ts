import type { AffectedCustomer, AssessedLot, ImpactAssessment } from '@huelot/contracts';
import type { Queryable } from '../../db/client.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import * as queries from './queries.ts';

/** One impact assessment as it stands, and what is missing before it can be closed. */
export async function view({ execute }: Pick<Queryable, 'execute'>, id: number): Promise<ImpactAssessment> {
  const row = orNotFound(await queries.readAssessment(execute, id), `impact assessment ${id}`);
  const lots = await queries.readLots(execute, id);
  const entries = await queries.readEntries(execute, id);
  const letters = await queries.readLetters(execute, id);
  const assessed = lots.map((lot) => assessedLot(lot, entries));
  const customers = affectedCustomers({ lots, assessed, entries, letters });
  const closed = entries.find(({ kind }) => kind === 'closed');
  return {
    ...row,
    openedAt: row.openedAt.toISOString(),
    ...{ assessed, customers },
    holds: entries.flatMap(({ kind, lotId, ...entry }) =>
      kind === 'hold' && lotId !== null ? [{ lotId, ...said(entry) }] : [],
    ),
    closed: closed === undefined ? null : said(closed),
    missing: row.state === 'closed' ? [] : missingOf({ assessed, customers }),
  };
}

const said = ({ text, by, at }: Pick<queries.EntryRow, 'text' | 'by' | 'at'>) => ({
  ...{ text, by, at: at.toISOString() },
});

function assessedLot(
  { lotId, facts, ties, why, held, status, shippedCount }: queries.LotRow,
  entries: readonly queries.EntryRow[],
): AssessedLot {
  const own = entries.filter((entry) => entry.lotId === lotId);
  return {
    ...{ lotId, facts, ties, why, held, status, shippedCount },
    judgements: own.flatMap((entry) =>
      entry.affected === null ? [] : [{ affected: entry.affected, ...said(entry) }],
    ),
    nonconformances: own.flatMap(({ nonconformance }) => nonconformance ?? []),
  };
}

/** Whether the newest judgement of a lot says that it is affected. */
export const isAffected = ({ judgements }: AssessedLot): boolean => judgements.at(-1)?.affected === true;

/**
 * Customers who have pieces of affected lots. A letter covers the lots that it names; a reason for none covers the lots that were
 * judged affected before it was given.
 */
function affectedCustomers({
  lots,
  assessed,
  entries,
  letters,
}: {
  lots: readonly queries.LotRow[];
  assessed: readonly AssessedLot[];
  entries: readonly queries.EntryRow[];
  letters: readonly queries.LetterRow[];
}): AffectedCustomer[] {
  const shipped = assessed.filter((lot) => isAffected(lot) && lot.shippedCount > 0);
  const customerOf = new Map(lots.map(({ lotId, customerId }) => [lotId, customerId]));
  const judgedIn = (lotId: number) =>
    entries.findLast((entry) => entry.kind === 'judgement' && entry.lotId === lotId)?.id ?? 0;
  return [...new Set(shipped.map(({ lotId }) => customerOf.get(lotId) ?? 0))].map((id) => {
    const theirs = shipped.filter(({ lotId }) => customerOf.get(lotId) === id);
    const told = letters.filter(({ customerId }) => customerId === id);
    const noLetter = entries.filter(({ kind, customerId }) => kind === 'no-letter' && customerId === id);
    const lastReason = noLetter.at(-1)?.id ?? 0;
    return {
      id,
      name: theirs[0]?.facts.customer.name ?? '',
      lots: theirs.map(({ facts }) => facts.number),
      pieces: theirs.reduce((sum, { shippedCount }) => sum + shippedCount, 0),
      letters: told.map((letter) => ({ ...letter, signedAt: letter.signedAt.toISOString() })),
      noLetter: noLetter.map(said),
      untold: theirs
        .filter(
          ({ lotId, facts }) =>
            judgedIn(lotId) > lastReason && !told.some((letter) => letter.lots.includes(facts.number)),
        )
        .map(({ facts }) => facts.number),
    };
  });
}

function missingOf({ assessed, customers }: Pick<ImpactAssessment, 'assessed' | 'customers'>): string[] {
  const open = assessed.filter(({ judgements }) => judgements.length === 0);
  return [
    ...(assessed.length === 0 ? ['a lot, or it assesses nothing'] : []),
    ...(open.length === 0 ? [] : [`a judgement of ${few(open.map(({ facts }) => facts.number))}`]),
    ...customers
      .filter(({ untold }) => untold.length > 0)
      .map(({ name, untold }) => `a letter to ${name} about ${few(untold)}, or the reason for none`),
  ];
}

const NAMED = 5;
const few = (numbers: readonly string[]) =>
  numbers.length <= NAMED
    ? numbers.join(', ')
    : `${numbers.slice(0, NAMED).join(', ')} and ${numbers.length - NAMED} more`;
