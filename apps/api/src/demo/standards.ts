import { NewColourStandard } from '@huelot/contracts';
import { approveStandard, startStandard } from '../catalog/colour-standards/index.ts';
import { sql, type Db } from '../db/client.ts';
import { withoutTriggers, type Timeline } from './backdate.ts';
import { DAY, HOUR } from './job.ts';
import type { Actors } from './people.ts';
import { sketchOf, standardBook, type StandardCode } from './standard-book.ts';

const dayAt = (when: number) => new Date(when).toISOString().slice(0, 10);

/** Agrees the colours of the customers: the estimator writes them down, quality approves. Returns the keys by code. */
export async function seedStandards(
  db: Db,
  {
    actors,
    story,
    since,
    customerIds,
  }: { actors: Actors; story: Timeline; since: number; customerIds: readonly number[] },
): Promise<Map<string, number>> {
  const ids = new Map<string, number>();
  for (const [index, code] of (Object.keys(standardBook) as StandardCode[]).entries()) {
    const when = since + index * 600_000;
    const { customer, name, agreedBy, figures, sample, expiresInDays } = sketchOf(code);
    const input = NewColourStandard.parse({
      ...{ code, customerId: customerIds[customer], name, agreedBy, agreedOn: dayAt(when - 3 * DAY) },
      target: figures?.target ?? null,
      light: figures?.light ?? null,
      dark: figures?.dark ?? null,
      conditions: figures ? { geometry: 'd8-included', illuminant: 'D65', observerDeg: 2 } : null,
      instrument: figures ? 'SP-1' : '',
      tolerance: figures
        ? { from: figures.light ? 'ends' : 'target', deltaE: figures.deltaE, kL: 1, kC: 1, kH: 1 }
        : null,
      sample: sample ?? null,
      grade: figures ? 'measured' : 'compared',
      expiresOn: expiresInDays === undefined ? null : dayAt(Date.now() + Math.max(expiresInDays, 1) * DAY),
      ...{ photoId: null, notes: '', changeNote: '' },
    });
    const draft = await story.at(when, () => startStandard(db, { actor: actors.edgar, input }));
    const { revisionId: id, version, standardId } = draft;
    await story.at(when + HOUR, () => approveStandard(db, { actor: actors.quentin, id, version }));
    ids.set(code, standardId);
    if (expiresInDays !== undefined && expiresInDays < 0) await expire(db, { id, expiresInDays });
  }
  return ids;
}

/** Nobody can approve what has run out already, so it is said late, like the end of an offer. */
const expire = (db: Db, { id, expiresInDays }: { id: number; expiresInDays: number }) =>
  withoutTriggers(db, (execute) =>
    execute(sql`
      update "colour_standard_revision" set "expiresOn" = ${dayAt(Date.now() + expiresInDays * DAY)}::date where "id" = ${id}`),
  );
