import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { clusterByDistance, nearestIndex, indicesInView, minMaxDownsample } from './downsample.ts';

const steady = (count: number) => Array.from({ length: count }, (_, place) => place);

describe('a thinned line', () => {
  it('keeps every point while there is room', () => {
    const x = steady(50);
    const kept = minMaxDownsample({ x, y: x, restarts: new Set([0]) }, { domain: [0, 49], width: 900 });
    expect(kept).toEqual(x);
  });

  it('keeps highest and lowest of every pixel column, whatever the line', () =>
    fc.assert(
      fc.property(
        fc.array(fc.double({ noNaN: true, min: -1e3, max: 1e3 }), { minLength: 2, maxLength: 600 }),
        (y) => {
          const x = steady(y.length);
          const width = 40;
          const domain = [0, y.length] as const;
          const kept = minMaxDownsample({ x, y, restarts: new Set([0]) }, { domain, width });
          const columnOf = (place: number) => Math.floor(place / (y.length / width));
          const most = (places: readonly number[]) => {
            const found = new Map<number, number>();
            for (const place of places)
              found.set(columnOf(place), Math.max(found.get(columnOf(place)) ?? -Infinity, y[place] ?? 0));
            return [...found];
          };
          expect(most(kept)).toEqual(most(x));
          expect(kept.length).toBeLessThanOrEqual(4 * (width + 1));
          expect(kept).toEqual([...kept].sort((a, b) => a - b));
        },
      ),
    ));

  it('never loses the place where a line breaks', () => {
    const x = steady(7000);
    const restarts = new Set([0, 3333, 3334]);
    const kept = minMaxDownsample({ x, y: x, restarts }, { domain: [0, 7000], width: 10 });
    expect(kept).toEqual(expect.arrayContaining([3333, 3334]));
  });

  it('takes one more point on either side of the view', () =>
    expect(indicesInView(steady(10), [3.5, 5.5])).toEqual({ first: 3, last: 6 }));
});

it('finds the nearest point', () => {
  expect(nearestIndex([0, 10, 20], 14)).toBe(1);
  expect(nearestIndex([0, 10, 20], 16)).toBe(2);
  expect(nearestIndex([0, 10, 20], 99)).toBe(2);
  expect(nearestIndex([], 5)).toBe(-1);
});

it('lets nothing stand on its neighbour', () =>
  expect(
    clusterByDistance([{ x: 0 }, { x: 3 }, { x: 9 }, { x: 20 }], 10).map(({ rest }) => rest.length),
  ).toEqual([2, 0]));
