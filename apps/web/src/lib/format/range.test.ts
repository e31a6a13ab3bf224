import { expect, test } from 'vitest';
import { rangeInWords } from './range.ts';

const inUnit = (unit: string) => (value: number) => `${value}\u00a0${unit}`;

test('limits repeated their unit and broke over two lines at the tank', () => {
  expect(rangeInWords({ low: 27.5, high: 28.5 }, inUnit('V'))).toBe('27.5 to 28.5\u00a0V');
  expect(rangeInWords({ low: 0.5, high: 2 }, (value) => `${value}\u00a0g/dm²`)).toBe('0.5 to 2\u00a0g/dm²');
});

test('ends in two units, or without one, keep both', () => {
  const time = (value: number) => (value < 120 ? inUnit('s')(value) : inUnit('min')(value / 60));
  expect(rangeInWords({ low: 90, high: 240 }, time)).toBe('90\u00a0s to 4\u00a0min');
  expect(rangeInWords({ low: 5, high: 7 }, String)).toBe('5 to 7');
  expect(rangeInWords({ low: null, high: 65 }, inUnit('°C'))).toBe('at most 65\u00a0°C');
  expect(rangeInWords({ low: 5, high: null }, inUnit('°C'))).toBe('at least 5\u00a0°C');
  expect(rangeInWords({ low: null, high: null }, inUnit('°C'))).toBe('');
});
