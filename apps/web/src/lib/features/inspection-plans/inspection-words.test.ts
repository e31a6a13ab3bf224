import { expect, it } from 'vitest';
import { askedWords, samplingWords } from './inspection-words.ts';

const sampling = { level: 'II', aql: '4.0', limitNumber: null } as const;
const asked = { letter: 'B', inspect: 3, ac: 0, re: 1, planTable: '', flags: [] };

it('says how a characteristic is sampled', () => {
  expect(samplingWords(null)).toBe('every piece');
  expect(samplingWords(sampling)).toBe('sample at level II, AQL 4.0');
});

it('says what is asked of a lot', () => {
  expect(askedWords({ sampling, asked, lotSize: 24 })).toBe('3 of 24, letter B: accept at 0, reject at 1');
  expect(askedWords({ sampling: null, asked: null, lotSize: 24 })).toBe('every piece: 24');
  expect(askedWords({ sampling, asked: null, lotSize: 0 })).toBe('nothing waits to be inspected');
});
