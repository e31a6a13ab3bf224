import type { AgreedColour, LotColour, PartZone } from '@huelot/contracts';
import { readInForce, readToday, readUnconfirmed } from '../../catalog/colour-standards/index.ts';
import { sql, type SqlExecutor } from '../../db/client.ts';
import { orNotFound } from '../../kernel/refusal.ts';

/** What a lot is held to: the colours of its part and of its zones, and where they are read. */
export type AgreedOfLot = Pick<LotColour, 'agreed' | 'zones' | 'readAt'>;

/**
 * What was agreed of a lot's colour. A lot is held to the revisions it was released with, whatever was agreed since; where no
 * approved one stood then, to the one in force now. An expired one is returned and says so: what to do then is the caller's.
 *
 * @example
 * const { agreed, zones } = await readAgreedOfLot(tx.execute, lotId);
 */
export async function readAgreedOfLot(execute: SqlExecutor, lotId: number): Promise<AgreedOfLot> {
  const [row] = await execute<{
    agreed: AgreedColour | null;
    zones: PartZone[];
    readAt: LotColour['readAt'];
    colourStandardId: number | null;
  }>(sql`
    select agreed_colour_of_part(l."snapshot" -> 'part') as "agreed", zones_of_snapshot(l."snapshot" -> 'part') as "zones",
           coalesce(l."snapshot" -> 'part' ->> 'colourReadAt', 'check') as "readAt", p."colourStandardId"
      from "lot" l join "part" p on p."id" = l."partId" where l."id" = ${lotId}`);
  const { agreed, zones, readAt, colourStandardId } = orNotFound(row, `lot ${lotId}`);
  const standardIds = [colourStandardId, ...zones.map((zone) => zone.agreedColour?.standardId)];
  const inForce = await readInForce(
    execute,
    standardIds.filter((id) => typeof id === 'number'),
  );
  const today = await readToday(execute);
  const revisionIds = [agreed, ...zones.map((zone) => zone.agreedColour)].map((one) => one?.revisionId);
  const unconfirmed = await readUnconfirmed(
    execute,
    revisionIds.filter((id) => typeof id === 'number'),
  );
  const heldTo = (released: AgreedColour | null, standardId: number | null): LotColour['agreed'] => {
    const current = inForce.find((one) => one.standardId === standardId) ?? null;
    // A person may have confirmed since what was taken over and not confirmed at the release.
    const colour =
      released?.status === 'approved'
        ? { ...released, unconfirmed: unconfirmed.includes(released.revisionId ?? 0) }
        : current;
    if (colour === null) return null;
    const isNewer = current !== null && (current.revision ?? 0) > (colour.revision ?? 0);
    return {
      ...colour,
      expired: colour.expiresOn !== null && colour.expiresOn < today,
      newerRevision: isNewer ? current.revision : null,
    };
  };
  return {
    agreed: heldTo(agreed, colourStandardId),
    zones: zones.map(({ name, agreedColour }) => ({
      name,
      agreed: heldTo(agreedColour, agreedColour?.standardId ?? null),
    })),
    readAt,
  };
}
