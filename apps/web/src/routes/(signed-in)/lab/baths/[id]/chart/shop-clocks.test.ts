import { expect, it } from 'vitest';
import { shopClock } from '$lib/time.ts';
import { shopClocks } from './shop-clocks.ts';

it.each(['Europe/Vienna', 'America/New_York', 'Asia/Kolkata', 'Australia/Lord_Howe', 'UTC'])(
  'reads the clock of %s as one question at a time would, also around its changes',
  (timeZone) => {
    const hours = Array.from({ length: 24 * 400 }, (_, hour) => Date.UTC(2025, 11, 1, hour, 17));
    const slow = hours.map((ms) => shopClock({ at: new Date(ms).toISOString(), timeZone }));
    expect(shopClocks({ atMs: hours, timeZone })).toEqual(slow);
  },
);
