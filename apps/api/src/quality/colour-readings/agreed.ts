import type { AgreedColour, LotColour, PartZone } from '@huelot/contracts';
import { readInForce, readToday, readUnconfirmed } from '../../catalog/colour-standards/index.ts';
import { sql, type SqlExecutor } from '../../db/client.ts';
import { orNotFound } from '../../kernel/refusal.ts';

/** What a lot is held to: the colours of its part and of its zones, and where they are read. */
export type AgreedOfLot = Pick<LotColour, 'agreed' | 'zones' | 'readAt'>;

/**
 * What was agreed of a lot's colour. A lot is held to the revisions it was released with, whatever was agreed since; where no
 * approved one stood then, to the one in force now. One that has run out gives way to the revision that renewed it; where none did
 * it says so, and what is read by it holds the lot. `on` is the day that counts, `2026-11-30`: today unless it is named.
 *
 * @example
 * const { agreed, zones } = await readAgreedOfLot(tx.execute, lotId);
 */
export async function readAgreedOfLot(
  execute: SqlExecutor,
  lotId: number,
  { on }: { on?: string | undefined } = {},
): Promise<AgreedOfLot> {
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
  const day = on ?? (await readToday(execute));
  const isExpired = ({ expiresOn }: AgreedColour) => expiresOn !== null && expiresOn < day;
  const revisionIds = [agreed, ...zones.map((zone) => zone.agreedColour)].map((one) => one?.revisionId);
  const unconfirmed = await readUnconfirmed(
    execute,
    revisionIds.filter((id) => typeof id === 'number'),
  );
  const heldTo = (released: AgreedColour | null, standardId: number | null): LotColour['agreed'] => {
    const current = inForce.find((one) => one.standardId === standardId) ?? null;
    // A person may have confirmed since what was taken over and not confirmed at the release.
    const held =
      released?.status === 'approved'
        ? { ...released, unconfirmed: unconfirmed.includes(released.revisionId ?? 0) }
        : null;
    const isNewer = current !== null && held !== null && (current.revision ?? 0) > (held.revision ?? 0);
    const isRenewed = isNewer && isExpired(held) && !isExpired(current);
    const colour = held === null || isRenewed ? current : held;
    if (colour === null) return null;
    return {
      ...colour,
      expired: isExpired(colour),
      newerRevision: isNewer && !isRenewed ? current.revision : null,
      renewed: isRenewed ? { revision: held.revision, expiredOn: held.expiresOn } : null,
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
