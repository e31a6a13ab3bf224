import { expect, it } from 'vitest';
import { phoneLink } from './phone-link.ts';

// The digits of the extension were dialled as part of the number.
it.each([
  ['+49 711 5550100 ext. 12', 'tel:+497115550100;ext=12'],
  ['555-0100 x3', 'tel:5550100;ext=3'],
  ['+44 (0)20 7946 0100', 'tel:+442079460100'],
  ['0711 5550100', 'tel:07115550100'],
])('dials %s', (phone, link) => expect(phoneLink(phone)).toBe(link));
