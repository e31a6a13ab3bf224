import { expect, it } from 'vitest';
import { componentFor, emptySeries } from './coupon-form.ts';

it('the form of coupons kept KOH when the bath became a salt electrolyte', () => {
  expect(componentFor('mild-salt', emptySeries)).toBe('Na3PO4');
  expect(componentFor('dye', { contents: 'mild-salt', component: 'Na3PO4' })).toBe('');
  expect(componentFor('hot-caustic', { contents: 'dye', component: '' })).toBe('KOH');
});

it('a component that somebody typed was replaced with the usual one', () => {
  expect(componentFor('mild-salt', { contents: 'hot-caustic', component: 'NaOH' })).toBe('NaOH');
});
