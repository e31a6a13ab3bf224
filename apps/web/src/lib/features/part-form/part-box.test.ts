import { expect, it } from 'vitest';
import { boxOf, holdsBox } from './part-box.ts';

const first = { x: 127, y: 34.93, z: 63.5 };
const second = { x: 20, y: 20, z: 20 };

it('takes the box of a second file, where the first one’s still stood', () => {
  expect(holdsBox(boxOf(first), first)).toBe('same');
  expect(holdsBox(boxOf(first), second)).toBe('differs');
  expect(holdsBox({ widthMm: 63.5, heightMm: 127, depthMm: 34.93 }, first)).toBe('same');
  expect(holdsBox({ widthMm: 63.5, heightMm: 127, depthMm: null }, first)).toBe('differs');
  expect(holdsBox({ widthMm: null, heightMm: null, depthMm: null }, first)).toBe('empty');
});
