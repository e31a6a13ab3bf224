import { randomInt } from 'node:crypto';
import { createFirstAdmin, invitePerson, setPin, updateShop, type Role } from '@huelot/contracts';
import type { Actor } from '../kernel/actor.ts';
import type { Db } from '../db/client.ts';
import { invite, setMyPin, issueFirstAdminCode, choosePassword, endSignIns } from '../core/people/index.ts';
import { openShop, readShop, changeShop } from '../catalog/settings/index.ts';
import type { Timeline } from './backdate.ts';

/** Somebody to sign in as. */
export interface DemoPerson {
  role: Role;
  name: string;
  password: string;
}

const owner = { name: 'olive', displayName: 'Olive Marsh', roles: ['owner'] } as const;
const staff = [
  { name: 'edgar', displayName: 'Edgar Finch', roles: ['estimator'] },
  { name: 'petra', displayName: 'Petra Vale', roles: ['planner'] },
  { name: 'omar', displayName: 'Omar Reed', roles: ['operator'] },
  { name: 'ines', displayName: 'Ines Moor', roles: ['operator'] },
  { name: 'lena', displayName: 'Lena Frost', roles: ['lab'] },
  { name: 'quentin', displayName: 'Quentin Hale', roles: ['quality'] },
] as const satisfies readonly { name: string; displayName: string; roles: readonly Role[] }[];
export type StaffName = (typeof owner | (typeof staff)[number])['name'];
export type Actors = Record<StaffName, Actor>;

const facts = {
  name: 'Brook Lane Colour Works',
  address: '4 Brook Lane\nMillbridge',
  contact: 'office@example.com',
  timeZone: 'Europe/Vienna',
  currency: 'EUR',
  units: 'metric',
  quotationValidityDays: 30,
  leadTimeDays: 10,
  terms: 'Payment within 30 days, ex works. Parts are insured while they are here.',
  retentionYears: 10,
};

const syllables = ['ba', 'do', 'fe', 'gi', 'ku', 'la', 'mo', 'ne', 'pi', 'ra', 'su', 'ti', 'vo', 'we', 'zu'];
/** Sixteen random letters that can be read out over a noisy floor: about 47 bits. */
const randomPassword = () =>
  Array.from(
    { length: 4 },
    () =>
      `${syllables[randomInt(syllables.length)]}${syllables[randomInt(syllables.length)]}${randomInt(10)}`,
  ).join('-');

const from = { address: '127.0.0.1', agent: '' };
const actorOf = (
  personId: number,
  { name, displayName, roles }: { name: string; displayName: string; roles: readonly Role[] },
): Actor => ({
  ...{ personId, name, displayName, roles, address: from.address },
  units: 'metric',
  signInId: 0,
});

/**
 * The first owner opens the shop and invites the others. Everybody who works in it can sign in, and sign a step with the
 * PIN 4070.
 */
export async function seedPeople(
  db: Db,
  { story, since }: { story: Timeline; since: number },
): Promise<{ people: DemoPerson[]; actors: Actors }> {
  const code = await issueFirstAdminCode(db);
  if (code === null)
    throw new Error('somebody is in this database already: the invented shop needs an empty one');
  const ownPassword = randomPassword();
  const olive = await story.at(since, async () => {
    const { name, displayName } = owner;
    const { name: shopName, timeZone, currency } = facts;
    const typed = { code, name, displayName, password: ownPassword, shopName, timeZone, currency };
    const { person } = await openShop(db, { input: createFirstAdmin.body.parse(typed), from });
    const actor = actorOf(person.id, owner);
    const { version } = await readShop(db);
    await changeShop(db, { actor, version, input: updateShop.body.parse(facts) });
    await settleIn(db, { actor, password: ownPassword });
    return actor;
  });
  const people: DemoPerson[] = [{ role: 'owner', name: owner.name, password: ownPassword }];
  const actors: Partial<Actors> = { olive };
  for (const [index, one] of staff.entries()) {
    const password = randomPassword();
    const { roles, ...names } = one;
    actors[one.name] = await story.at(since + (index + 1) * 600_000, async () => {
      const input = invitePerson.body.parse({ ...names, email: `${one.name}@example.com`, roles });
      const { person, link } = await invite(db, { actor: olive, input });
      const token = link.url.slice(link.url.lastIndexOf('/') + 1);
      await choosePassword(db, { token, password, from });
      const actor = actorOf(person.id, one);
      await settleIn(db, { actor, password });
      return actor;
    });
    people.push({ role: roles[0], name: one.name, password });
  }
  return { people, actors: actors as Actors };
}

/** Sets the PIN of somebody new, and signs them out again. */
async function settleIn(db: Db, { actor, password }: { actor: Actor; password: string }): Promise<void> {
  await setMyPin(db, { actor, ...setPin.body.parse({ password, pin: '4070' }) });
  await endSignIns(db, { personId: actor.personId });
}
