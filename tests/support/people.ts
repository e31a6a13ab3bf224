import type { Role } from '@huelot/contracts';
import type { Db } from '../../apps/api/src/db/client.ts';
import { addPerson } from '../../apps/api/src/core/people/queries.ts';
import { hashSecret } from '../../apps/api/src/core/people/secrets.ts';
import type { TestApp } from './app.ts';

/** Somebody with a password and, if given, a PIN, who is not signed in. */
export async function addPersonWith(
  db: Db,
  {
    name,
    password,
    pin,
    roles = ['operator'],
  }: { name: string; password: string; pin?: string; roles?: Role[] },
) {
  const passwordHash = await hashSecret(password);
  const person = await addPerson(db, { name, displayName: name, email: null, roles, passwordHash });
  if (pin !== undefined)
    await db.prisma.person.update({ where: { id: person.id }, data: { pinHash: await hashSecret(pin) } });
  return person;
}

/** Signs in over the wire, from an address of choice and with what cookies a browser would send. */
export const signInAs = (
  { app }: TestApp,
  {
    address = '192.0.2.1',
    cookie,
    ...body
  }: { name: string; password: string; address?: string; cookie?: string },
) =>
  app.inject({
    method: 'POST',
    url: '/api/sign-in',
    remoteAddress: address,
    payload: body,
    headers: cookie === undefined ? {} : { cookie },
  });

/** The cookies of a reply, as the browser sends them back. */
export const cookiesOf = (reply: Awaited<ReturnType<typeof signInAs>>): string =>
  reply.cookies.map(({ name, value }) => `${name}=${value}`).join('; ');
