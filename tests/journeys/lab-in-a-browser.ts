import type { Role } from '@huelot/contracts';
import type { Locator } from 'playwright-core';
import { expect } from 'vitest';
import type { Printed } from '../../packages/calc/reference/worked-examples.ts';
import { addPerson } from '../../apps/api/src/core/people/queries.ts';
import { hashSecret } from '../../apps/api/src/core/people/secrets.ts';
import { openSignIn } from '../../apps/api/src/core/people/sign-in.ts';
import type { Ask } from '../support/app.ts';
import { openHouse, type Shop } from './shop-in-a-browser.ts';

export const pin = '4711';
const password = 'seven-brown-beakers-4';
const staff = [
  { name: 'ada', displayName: 'Ada Quill', roles: ['lab'] },
  { name: 'bo', displayName: 'Bo Larch', roles: ['lab'] },
  { name: 'cleo', displayName: 'Cleo Dane', roles: ['quality'] },
] as const satisfies readonly { name: string; displayName: string; roles: readonly Role[] }[];
export type LabPerson = (typeof staff)[number]['name'];

export interface Lab extends Shop {
  /** Asks the service as Ada, for what is set up before anybody opens a page. */
  ask: Ask;
  idOf: (name: LabPerson) => number;
}

/** A shop with two lab people and one of quality, and nothing in it yet. */
export async function openLab(): Promise<Lab> {
  const ids = new Map<string, number>();
  let cookie = '';
  const house = await openHouse(async (db) => {
    const [passwordHash, pinHash] = await Promise.all([hashSecret(password), hashSecret(pin)]);
    for (const { name, displayName, roles } of staff) {
      const facts = { name, displayName, roles: [...roles], email: null, passwordHash };
      const person = await addPerson(db, facts);
      await db.prisma.person.update({ where: { id: person.id }, data: { pinHash } });
      ids.set(name, person.id);
      if (name === 'ada')
        cookie = `huelot=${await openSignIn(db, person, { address: '127.0.0.1', agent: 'set-up' })}`;
    }
    return staff.map(({ name, roles: [role] }) => ({ name, role, password }));
  });
  return {
    ...house,
    ask: (request) => house.app.inject({ ...request, headers: { cookie, ...request.headers } }),
    idOf: (name) => ids.get(name) ?? 0,
  };
}

/** Types into a field, as a person does who comes to it by a tap. */
export async function typeInto(field: Locator, text: string): Promise<void> {
  await field.focus();
  await field.press('ControlOrMeta+a');
  await field.pressSequentially(text);
}

/** The number that stands before a unit in a shown text, the one with most digits, and half of its last digit. */
export function numberBefore(text: string, unit: string): { value: number; half: number } {
  const plain = text.replaceAll('\u202f', '').replaceAll('\u00a0', ' ');
  const found = [...plain.matchAll(new RegExp(`([-−]?\\d+(?:\\.(\\d+))?) ${unit}(?![\\w/])`, 'g'))];
  const [finest] = found.sort(([, , one = ''], [, , other = '']) => other.length - one.length);
  if (!finest?.[1]) throw new Error(`no figure in ${unit} in: ${plain}`);
  return { value: Number(finest[1].replace('−', '-')), half: 0.5 * 10 ** -(finest[2]?.length ?? 0) };
}

/** A shown figure is the printed one, to the coarser of the two precisions. */
export function expectFigure(text: string, unit: string, [right, within]: Printed): void {
  const { value, half } = numberBefore(text, unit);
  const most = Math.max(half, within) * (1 + 1e-9);
  expect(Math.abs(value - right), `${text}: ${right} ${unit}`).toBeLessThanOrEqual(most);
}
