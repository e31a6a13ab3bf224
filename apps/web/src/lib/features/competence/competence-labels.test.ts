import type { Competence } from '@huelot/contracts';
import { expect, it } from 'vitest';
import { bestOf } from './competence-labels.ts';

const one = (id: number, more: Partial<Competence>) =>
  ({ id, personId: 1, activity: 'sign', family: null, untilOn: null, state: 'valid', ...more }) as Competence;
const asked = { personId: 1, activity: 'sign', family: 'caustic-colour' } as const;

it('showed what ran out, was withdrawn, or is of another person or family before what counts', () => {
  const items = [
    one(1, { state: 'expired', family: 'caustic-colour' }),
    one(2, { state: 'withdrawn' }),
    one(3, { personId: 2 }),
    one(4, { family: 'dyed-anodize' }),
    one(5, { untilOn: '2027-01-01' }),
    one(6, { untilOn: '2028-01-01' }),
  ];
  expect(bestOf(items, asked)?.id).toBe(6);
  expect(bestOf(items.slice(0, 4), asked)?.id).toBe(1);
  expect(bestOf(items.slice(1, 4), asked)).toBeNull();
});
