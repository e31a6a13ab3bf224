import type { AnalysisMethod, AnalysisSheet, BathSetup } from '@huelot/contracts';
import { expect, it } from 'vitest';
import { usualMethod } from './analysis-form.ts';

const methods = [
  { id: 5, code: 'ACID' },
  { id: 9, code: 'PH' },
  { id: 1, code: 'CAUSTIC' },
] as AnalysisMethod[];
const planned = (methodId: number | null) => ({ plans: [{ methodId }] }) as BathSetup;
const sheet = (input: { setup: BathSetup | null; lastMethodCode: string | null }) =>
  ({ methods, ...input }) as AnalysisSheet;

it('opens with the method of the plan before the one that was used last', () => {
  expect(usualMethod(sheet({ setup: planned(1), lastMethodCode: 'PH' }))?.code).toBe('CAUSTIC');
});

it('opens with the method that was used last where the plan names none', () => {
  expect(usualMethod(sheet({ setup: planned(null), lastMethodCode: 'PH' }))?.code).toBe('PH');
});

it('opens with some method for the first analysis of a tank, and for one whose last method is gone', () => {
  expect(usualMethod(sheet({ setup: null, lastMethodCode: null }))?.code).toBe('ACID');
  expect(usualMethod(sheet({ setup: null, lastMethodCode: 'GONE' }))?.code).toBe('ACID');
});
