import type { Activity, Family } from '@huelot/contracts';
import { grantCompetence } from '../catalog/competence/index.ts';
import type { Db } from '../db/client.ts';
import type { Timeline } from './backdate.ts';
import type { Actors } from './people.ts';

const DAY = 86_400_000;
const dayOf = (when: number) => new Date(when).toISOString().slice(0, 10);

/** Who of the invented shop is fit for what: one that ends soon, one that is over. The rule is off, as in a shop that begins. */
export async function seedCompetence(
  { db, actors, story }: { db: Db; actors: Actors; story: Timeline },
  { since }: { since: number },
): Promise<void> {
  const grant = (
    who: keyof Actors,
    facts: { activity: Activity; family: Family | null; days: number | null; evidence: string },
  ) => {
    const { days, ...rest } = facts;
    const untilOn = days === null ? null : dayOf(Date.now() + days * DAY);
    return grantCompetence(db, {
      actor: actors.quentin,
      input: { ...rest, personId: actors[who].personId, fromOn: dayOf(since), untilOn, fileId: null },
    });
  };
  await story.at(since, async () => {
    await grant('omar', {
      ...{ activity: 'sign', family: null, days: 400 },
      evidence: 'Eleven years at the line; examined on all three families',
    });
    await grant('ines', {
      ...{ activity: 'sign', family: 'interference-colour', days: 21 },
      evidence: 'Four weeks beside Omar, twelve lots signed together',
    });
    await grant('ines', {
      ...{ activity: 'sign', family: 'caustic-colour', days: -12 },
      evidence: 'Training in hot caustic, face shield and neutraliser shown',
    });
    await grant('lena', {
      ...{ activity: 'analyse', family: null, days: null },
      evidence: 'Chemical technician; ring test of the spring',
    });
    await grant('lena', {
      ...{ activity: 'approve', family: 'interference-colour', days: 300 },
      evidence: 'Wrote and ran the coupon series of the house',
    });
  });
}
