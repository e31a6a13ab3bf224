import { randomBytes } from 'node:crypto';
import { expect, test } from 'vitest';
import { isSealed, secretBox } from './secret-box.ts';

const box = secretBox(randomBytes(32));
const about = 'app of person 7';

test('opens with its key, and is never sealed twice alike', () => {
  const [one, other] = [box.seal('GEZDGNBV', about), box.seal('GEZDGNBV', about)];
  expect(one).not.toBe(other);
  expect(one).not.toContain('GEZDGNBV');
  expect([isSealed(one), isSealed('GEZDGNBV')]).toEqual([true, false]);
  expect([box.open(one, about), box.open(other, about)]).toEqual(['GEZDGNBV', 'GEZDGNBV']);
});

test('what was sealed with another key, for somebody else, altered or cut opened all the same', () => {
  const sealed = box.seal('GEZDGNBV', about);
  expect(secretBox(randomBytes(32)).open(sealed, about)).toBeNull();
  expect(box.open(sealed, 'app of person 8')).toBeNull();
  expect(box.open('GEZDGNBV', about)).toBeNull();
  for (let index = 'sealed:'.length; index < sealed.length; index += 1) {
    const altered = `${sealed.slice(0, index)}${sealed[index] === 'A' ? 'Q' : 'A'}${sealed.slice(index + 1)}`;
    // The last letter of base64url may carry bits that stand for nothing.
    if (index < sealed.length - 1) expect(box.open(altered, about), altered).toBeNull();
    expect(box.open(sealed.slice(0, index), about)).toBeNull();
  }
});
