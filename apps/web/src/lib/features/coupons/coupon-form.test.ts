import { expect, it } from 'vitest';
import { bodyOf, componentFor, emptySeries, nextTrial } from './coupon-form.ts';

it('the form of coupons kept KOH when the bath became a salt electrolyte', () => {
  expect(componentFor('mild-salt', emptySeries)).toBe('Na3PO4');
  expect(componentFor('dye', { contents: 'mild-salt', component: 'Na3PO4' })).toBe('');
  expect(componentFor('hot-caustic', { contents: 'dye', component: '' })).toBe('KOH');
});

it('a component that somebody typed was replaced with the usual one', () => {
  expect(componentFor('mild-salt', { contents: 'hot-caustic', component: 'NaOH' })).toBe('NaOH');
});

it('a coupon kept its voltage when the bath became a dye, and was refused for it', () => {
  const trial = nextTrial(undefined, { madeOn: '2026-03-02', madeBy: 'L. Frost', outcome: 'dyed' });
  const values = { ...emptySeries, contents: 'dye' as const, trials: [{ ...trial, voltageV: 2.2, pH: 5.5 }] };
  expect(bodyOf(values).trials[0]).toMatchObject({ voltageV: null, pH: 5.5 });
  expect(bodyOf({ ...values, contents: 'hot-caustic' }).trials[0]).toMatchObject({ voltageV: 2.2, pH: null });
});
