import { describe, expect, it } from 'vitest';
import { quantityText } from '$lib/format/quantity.ts';
import { changeSentences } from './change-sentences.ts';
import { recordPath } from './record-link.ts';

const format = {
  quantity: (quantity: Parameters<typeof quantityText>[0]['quantity'], value: number) =>
    quantityText({ quantity, value, system: 'metric' }).replaceAll('\u00a0', ' '),
  dateTime: (instant: string) => `the instant ${instant}`,
  day: (day: string) => `the day ${day}`,
};
const said = (field: string, old: unknown, now: unknown) => changeSentences({ field, old, new: now }, format);

describe('a history that showed field names and JSON', () => {
  it.each([
    ['areaMm2', 42_000, 43_000, ['area from 4.20 dm² to 4.30 dm²']],
    ['maximumTemperatureC', 22, 24, ['maximum temperature from 22.0 °C to 24.0 °C']],
    ['workingVolumeL', null, 800, ['working volume: 800.0 L']],
    ['displayName', 'Ann', 'Anna', ['display name from Ann to Anna']],
    ['terms', '', 'net 30 days', ['terms: “net 30 days”']],
    ['notes', 'call first', '', ['notes removed, was “call first”']],
    ['roles', ['lab'], ['lab', 'owner'], ['roles from lab to lab, owner']],
    ['active', true, false, ['active from yes to no']],
    ['receivedAt', null, '2026-11-28T09:00:00.000Z', ['received at: the instant 2026-11-28T09:00:00.000Z']],
    ['validUntil', '2026-11-28', '2026-12-28', ['valid until from the day 2026-11-28 to the day 2026-12-28']],
    ['pH', 5, 5.5, ['pH from 5 to 5.5']],
    ['step 5 title', 'Colour', 'Colour it', ['step 5 title from Colour to “Colour it”']],
  ])('%s', (...[field, old, now, sentences]) => {
    expect(said(field, old, now)).toEqual(sentences);
  });

  it('says only what differs inside an object', () => {
    const box = { widthMm: 40, heightMm: 25 };
    expect(said('box', box, { ...box, heightMm: 30 })).toEqual(['box, height from 25 mm to 30 mm']);
  });

  it('names the place in a list', () => {
    const lines = [{ quantity: 12 }, { quantity: 48 }];
    expect(said('lines', lines, [{ quantity: 12 }, { quantity: 96 }])).toEqual([
      'lines 2, quantity from 48 to 96',
    ]);
  });

  it('counts what would be too much to list', () => {
    const figures = Object.fromEntries(Array.from({ length: 20 }, (_, index) => [`figure${index}`, index]));
    const sentences = said('geometry', {}, figures);
    expect(sentences).toHaveLength(13);
    expect(sentences.at(-1)).toBe('and 8 more in geometry');
    expect(sentences.join()).not.toMatch(/[{}"]/);
  });
});

it('leads from an entry to its record', () => {
  expect(recordPath({ kind: 'coupons', id: 4 })).toBe('/lab/coupons/4');
  expect(recordPath({ kind: 'step', id: 4 })).toBeNull();
});
