import {
  type Activity,
  activityNames,
  type allowOutsideCompetence,
  familyNames,
  may,
} from '@huelot/contracts';
import type { z } from 'zod';
import { writeAudit } from '../../core/audit/index.ts';
import { personOfPin } from '../../core/people/index.ts';
import { inTransaction, type Db, type SqlExecutor } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError, fieldError, orNotFound } from '../../kernel/refusal.ts';
import * as overrides from './override-queries.ts';
import * as queries from './queries.ts';

interface Doing {
  activity: Activity;
  /** The step, the bath or the revision. */
  subjectId: number;
  person: Pick<Actor, 'personId' | 'displayName'>;
  /** When it was done. */
  at: Date;
  /** Quality takes a step as done: that is their word for it. */
  settled?: { personId: number; reason: string } | null;
}

/**
 * Refuses what somebody does outside their competence, unless quality or an owner gave their word for it. A shop that never turned the
 * rule on works as if nothing were written down.
 */
export async function checkCompetence(execute: SqlExecutor, doing: Doing): Promise<void> {
  const { activity, subjectId, person, at, settled = null } = doing;
  if (!(await queries.readRule(execute)).on) return;
  const about = orNotFound(await overrides.readAbout(execute, doing), `${activity} ${subjectId}`);
  const { personId } = person;
  if (await queries.isCompetent(execute, { personId, activity, family: about.family, at })) return;
  if ((await overrides.readOverride(execute, { activity, subjectId, personId })) !== null) return;
  if (settled !== null) {
    await overrides.addOverride(execute, {
      ...{ activity, subjectId, family: about.family, personId, reason: settled.reason },
      ...{ grantedById: settled.personId, askedById: settled.personId },
    });
    return;
  }
  const words = `${person.displayName} is not on record as fit to ${activityNames[activity]}${about.family === null ? '' : ` of ${familyNames[about.family]}`} on that day.`;
  throw new DomainError(
    'not-competent',
    `${words} It takes the word of quality or an owner, with a reason.`,
    {
      current: { activity, subjectId, personId, person: person.displayName, words },
    },
  );
}

/** Takes the word of quality or an owner that somebody does one thing outside their competence. */
export async function allowOutside(
  db: Db,
  { actor, input }: { actor: Actor; input: z.output<typeof allowOutsideCompetence.body> },
): Promise<{ by: string; reason: string }> {
  const by = input.by === null ? actor : await personOfPin(db, { ...input.by, actor, path: 'by.pin' });
  if (!may(by.roles, 'competence.write'))
    throw new DomainError('not-allowed', `${by.displayName} may not allow work outside competence.`, {
      issues: [{ path: 'by', message: 'must be somebody in quality or an owner' }],
    });
  return inTransaction(db, async (tx) => {
    const { activity, subjectId, personId, reason } = input;
    const about = await overrides.readAbout(tx.execute, input);
    if (about === null) throw fieldError('subjectId', 'is nothing that there is');
    const [person] = await queries.readPeople(tx.execute, personId);
    if (person === undefined) throw fieldError('personId', 'is nobody who works here now');
    if (!(await queries.readRule(tx.execute)).on)
      throw new DomainError('conflict', 'The rule is off: no word is needed.');
    const { family } = about;
    if (await queries.isCompetent(tx.execute, { personId, activity, family, at: new Date() }))
      throw new DomainError('conflict', `${person.name} is fit for this: no word is needed.`);
    await overrides.addOverride(tx.execute, {
      ...{ activity, subjectId, family, personId, reason },
      ...{ grantedById: by.personId, askedById: actor.personId },
    });
    await writeAudit(tx.execute, by, {
      ...{ kind: about.kind, id: about.recordId, number: about.number, reason },
      action: `let ${person.name} ${activityNames[activity]} outside competence: ${about.what}`,
      ...(by.personId === actor.personId
        ? {}
        : { changes: [{ field: 'station', old: null, new: actor.displayName }] }),
    });
    return { by: by.displayName, reason };
  });
}
