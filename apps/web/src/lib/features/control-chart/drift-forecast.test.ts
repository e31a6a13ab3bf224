import { describe, expect, it } from 'vitest';
import { driftWords, forecastPlaces, limitForecast, reachedWords } from './drift-forecast.ts';

const DAY = 86_400_000;
const start = Date.UTC(2026, 2, 1);
const series = {
  atMs: [0, 7, 14, 21].map((day) => start + day * DAY),
  values: [50.1, 49.7, 49.5, 49.1],
  fill: [0, 0, 0, 0],
  changesAtMs: [] as number[],
  viewFromMs: -Infinity,
  from: 'addition' as const,
  lower: 48,
  upper: null,
};
const found = () => {
  const forecast = limitForecast(series);
  if ('fault' in forecast) throw new Error(forecast.fault);
  return forecast;
};

describe('the forecast of a limit', () => {
  // By hand: slope -0.32 / 7 a day, 49.12 on day 21, so 1.12 to go take 24.5 days.
  it('is the day the straight line meets it', () => {
    const [reached] = found().reached;
    expect(found().drift.driftPerDay).toBeCloseTo(-0.32 / 7, 10);
    expect(((reached?.atMs ?? 0) - start) / DAY).toBeCloseTo(45.5, 6);
    expect(reached?.earliestMs ?? 0).toBeLessThan(reached?.atMs ?? 0);
  });

  it('reads no drift across an addition, nor across a new fill', () => {
    const atMs = [1, 2, 3, 4, 5];
    const fill = [0, 0, 1, 1, 1];
    const asked = { atMs, fill, changesAtMs: [4], viewFromMs: 5 };
    expect(forecastPlaces({ ...asked, from: 'addition' })).toEqual([3, 4]);
    expect(forecastPlaces({ ...asked, from: 'fill' })).toEqual([2, 3, 4]);
    expect(forecastPlaces({ ...asked, from: 'view' })).toEqual([4]);
  });

  it('says why there is none', () => {
    expect(limitForecast({ ...series, changesAtMs: [start + 10 * DAY] })).toEqual({
      fault: 'A forecast needs three results; 2 since the last addition.',
    });
    const atOnce = limitForecast({ ...series, atMs: [start, start, start, start] });
    expect('fault' in atOnce && atOnce.fault).toMatch(/one moment/);
  });

  it('is told in words', () => {
    const text = (value: number) => `${value.toFixed(3)} g/L`;
    const date = (ms: number) => `day ${Math.round((ms - start) / DAY)}`;
    expect(driftWords(found(), text)).toMatch(
      /^It falls by 0\.046 g\/L a day \(0\.\d+ g\/L to 0\.\d+ g\/L\)\.$/,
    );
    const [reached] = found().reached;
    if (!reached) throw new Error('nothing reached');
    expect(reachedWords(reached, { text, date, lastMs: start })).toMatch(
      /^The low limit, 48\.000 g\/L is reached on day 4[56]: between day \d+ and day \d+\.$/,
    );
  });
});
