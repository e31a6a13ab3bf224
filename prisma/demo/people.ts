import { randomInt } from 'node:crypto';
import type { Role } from '@huelot/contracts';
import type { Db } from '../../apps/api/src/db/client.ts';
import { hashSecret } from '../../apps/api/src/domains/people/secrets.ts';
import type { Actor } from '../../apps/api/src/actor.ts';

/** Somebody to sign in as. */
export interface DemoPerson {
  role: Role;
  name: string;
  password: string;
}

const staff = [
  { name: 'olive', displayName: 'Olive Marsh', roles: ['owner'] },
  { name: 'edgar', displayName: 'Edgar Finch', roles: ['estimator'] },
  { name: 'petra', displayName: 'Petra Vale', roles: ['planner'] },
  { name: 'omar', displayName: 'Omar Reed', roles: ['operator'] },
  { name: 'ines', displayName: 'Ines Moor', roles: ['operator'] },
  { name: 'lena', displayName: 'Lena Frost', roles: ['lab'] },
  { name: 'quentin', displayName: 'Quentin Hale', roles: ['quality'] },
] as const satisfies readonly { name: string; displayName: string; roles: readonly Role[] }[];
export type StaffName = (typeof staff)[number]['name'];

const syllables = ['ba', 'do', 'fe', 'gi', 'ku', 'la', 'mo', 'ne', 'pi', 'ra', 'su', 'ti', 'vo', 'we', 'zu'];
/** Sixteen random letters that can be read out over a noisy floor: about 47 bits. */
const password = () =>
  Array.from(
    { length: 4 },
    () =>
      `${syllables[randomInt(syllables.length)]}${syllables[randomInt(syllables.length)]}${randomInt(10)}`,
  ).join('-');

/** Everybody who works in the invented shop, each able to sign in and to sign a step with the PIN 4070. */
export async function hirePeople(
  db: Db,
): Promise<{ people: DemoPerson[]; actors: Record<StaffName, Actor> }> {
  const pinHash = await hashSecret('4070');
  const people: DemoPerson[] = [];
  const actors = {} as Record<StaffName, Actor>;
  for (const { name, displayName, roles } of staff) {
    const secret = password();
    const row = await db.prisma.person.create({
      data: {
        name,
        displayName,
        roles: [...roles],
        passwordHash: await hashSecret(secret),
        pinHash,
        passwordChangedAt: new Date(),
      },
    });
    people.push({ role: roles[0], name, password: secret });
    actors[name] = {
      personId: row.id,
      name,
      displayName,
      roles,
      units: 'metric',
      signInId: 0,
      address: '127.0.0.1',
    };
  }
  return { people, actors };
}
