import type { AgreedColour, LotColour, PartZone } from '@huelot/contracts';
import { readInForce, readToday } from '../../catalog/colour-standards/index.ts';
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
  const [inForce, today] = await Promise.all([
    readInForce(
      execute,
      standardIds.filter((id) => typeof id === 'number'),
    ),
    readToday(execute),
  ]);
  const heldTo = (released: AgreedColour | null, standardId: number | null): LotColour['agreed'] => {
    const current = inForce.find((one) => one.standardId === standardId) ?? null;
    const colour = released?.status === 'approved' ? released : current;
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
