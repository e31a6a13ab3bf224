import { expect, it } from 'vitest';
import { changeInWords } from './history-words.ts';

it('says what a field was and is', () => {
  expect(changeInWords({ field: 'displayName', old: 'Ann', new: 'Anna' })).toBe('display name: Ann → Anna');
  expect(changeInWords({ field: 'maximumTemperatureC', old: 22, new: 24 })).toBe(
    'maximum temperature C: 22 → 24',
  );
  expect(changeInWords({ field: 'roles', old: null, new: ['lab', 'owner'] })).toBe('roles: lab, owner');
  expect(changeInWords({ field: 'active', old: true, new: false })).toBe('active: yes → no');
});
