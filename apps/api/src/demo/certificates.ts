import { sql, type Db } from '../db/client.ts';
import { issueCertificate, readCertificateSheet } from '../quality/certificates/index.ts';
import type { Actors } from './people.ts';

const statement =
  'The pieces listed here were processed and inspected as the order, the drawing and the specification named here ask, and conform to them, but for what is stated under deviations.';
/** The newest shipments still wait for theirs. */
const WAITING = 2;

/**
 * Signs the certificates of what was shipped, this morning and all at once: a paper shows the moment it was signed at, and nothing
 * moves that back. One was signed with a wrong title and is replaced.
 */
export async function seedCertificates(db: Db, actors: Actors, publicUrl: string): Promise<void> {
  const shipments = await db.execute<{ id: number }>(
    sql`select "id" from "shipment" order by "shippedAt", "id"`,
  );
  const sign = async (
    shipmentId: number,
    jobTitle: string,
    replaces: { id: number; reason: string } | null,
  ) => {
    const { concerns } = await readCertificateSheet(db, shipmentId);
    const deviations =
      concerns.length === 0
        ? ''
        : 'Looked at beside the agreed sample after each event on record: no effect on the pieces shipped.';
    return issueCertificate(db, {
      ...{ actor: actors.quentin, shipmentId, publicUrl },
      input: { statement, deviations, jobTitle, replaces },
    });
  };
  for (const [index, { id }] of shipments.slice(0, -WAITING).entries()) {
    const certificate = await sign(id, index === 3 ? 'Planner' : 'Head of quality', null);
    if (index === 3)
      await sign(id, 'Head of quality', { id: certificate.id, reason: 'the title of the signer was wrong' });
  }
}
