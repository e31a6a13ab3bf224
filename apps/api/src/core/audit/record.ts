import type { RecordKind } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { sql, type SqlExecutor } from '../../db/client.ts';

export interface Change {
  field: string;
  old: unknown;
  new: unknown;
}

export interface Entry {
  kind: RecordKind;
  id: number;
  number?: string | null;
  /** A verb in the past tense with its object, as the history shows it: `approved revision 3`. */
  action: string;
  changes?: readonly Change[];
  reason?: string | null;
}

/** Nobody is signed in: set-up, and refused sign-ins. */
export const nobody = (address: string | null) => ({
  personId: null,
  displayName: 'nobody',
  roles: [],
  address,
});
export type Doer = Pick<Actor, 'displayName'> & {
  personId: number | null;
  roles: readonly string[];
  address: string | null;
};

/**
 * Writes the audit row of a change. Call it with the runner of the transaction that makes the change, so that
 * neither stands without the other.
 *
 * @example
 * await record(tx.run, actor, { kind: 'part', id: part.id, number: part.number, action: 'added' });
 */
export async function writeAudit(execute: SqlExecutor, actor: Doer, entry: Entry): Promise<void> {
  await execute(sql`
    insert into "audit_entry"
      ("personId", "personName", "roles", "address", "action", "recordKind", "recordId", "recordNumber", "changes", "reason")
    values (${actor.personId}, ${actor.displayName}, ${[...actor.roles]}, ${actor.address}, ${entry.action}, ${entry.kind},
      ${entry.id}, ${entry.number ?? null}, ${JSON.stringify(entry.changes ?? [])}::jsonb, ${entry.reason ?? null})`);
}

/**
 * What a signature means and rests on, for the history of what was signed; the entry holds the printed name and the time.
 *
 * @example
 * await record(tx.run, actor, { ...about, action: 'approved revision 3', changes: signature(actor, 'approved') });
 */
export const signature = (actor: Pick<Actor, 'displayName' | 'provedWith'>, meaning: string): Change[] => [
  {
    field: 'signature',
    old: null,
    new: `${meaning} by ${actor.displayName}${actor.provedWith ? `, with the ${actor.provedWith === 'pin' ? 'PIN' : actor.provedWith} given again` : ''}`,
  },
];

/**
 * The fields that differ between two versions of a record, for its history. `version` and instants of bookkeeping
 * are not changes anyone made.
 *
 * @example
 * changesBetween({ name: 'A', version: 1 }, { name: 'B', version: 2 }) // [{ field: 'name', old: 'A', new: 'B' }]
 */
export function changesBetween(before: object, after: object): Change[] {
  const old = before as Record<string, unknown>;
  return Object.entries(after as Record<string, unknown>)
    .filter(([field, value]) => field !== 'version' && field in old && !same(old[field], value))
    .map(([field, value]) => ({ field, old: old[field] ?? null, new: value ?? null }));
}
const same = (one: unknown, other: unknown) => JSON.stringify(one ?? null) === JSON.stringify(other ?? null);
