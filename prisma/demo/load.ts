import { randomBytes } from 'node:crypto';
import { Role } from '@huelot/contracts';
import type { Db } from '../../apps/api/src/db/client.ts';
import { hashSecret } from '../../apps/api/src/domains/people/index.ts';

export interface DemoPerson {
  role: Role;
  name: string;
  password: string;
}

/** Invented people, one for each role. */
const names: Record<Role, { name: string; displayName: string }> = {
  estimator: { name: 'ines', displayName: 'Ines Abarca' },
  planner: { name: 'tomas', displayName: 'Tomas Brandvik' },
  operator: { name: 'odile', displayName: 'Odile Carrick' },
  lab: { name: 'ravi', displayName: 'Ravi Dalmar' },
  quality: { name: 'quentin', displayName: 'Quentin Esper' },
  owner: { name: 'wilma', displayName: 'Wilma Fauske' },
};

/** Fills an empty database with the invented shop and returns who can sign in. */
export async function loadDemo(
  db: Db,
  { log }: { log: (line: string) => void },
): Promise<{ people: DemoPerson[] }> {
  log('The people of the invented shop');
  const people: DemoPerson[] = [];
  for (const role of Role.options) {
    const password = randomBytes(9).toString('base64url');
    const passwordHash = await hashSecret(password);
    await db.prisma.person.create({
      data: { ...names[role], roles: [role], passwordHash, passwordChangedAt: new Date() },
    });
    people.push({ role, name: names[role].name, password });
  }
  return { people };
}
