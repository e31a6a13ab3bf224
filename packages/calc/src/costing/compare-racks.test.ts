import { expect, it } from 'vitest';
import { EXAMPLE_JOB, priceJob, racksByLoads, racksByPrice } from './index.ts';

const { rack: frame, ...job } = EXAMPLE_JOB;
const small = { ...frame, hooks: 10 };
const tiny = { ...frame, windowWidthMm: 60 };

it('puts the rack first that costs least, whatever the order they are named in', () => {
  const choices = racksByPrice({ job, racks: [small, tiny, frame] });
  expect(choices.map(({ rack }) => rack)).toEqual([frame, small, tiny]);
  expect(choices.map(({ priceTotal }) => priceTotal)).toEqual([
    priceJob({ ...job, rack: frame }).priceTotal,
    priceJob({ ...job, rack: small }).priceTotal,
    null,
  ]);
});

it('says why a rack takes no piece', () => {
  expect(racksByPrice({ job, racks: [tiny] })[0]?.why).toMatch(/window/);
  expect(racksByLoads({ job, racks: [tiny] })[0]).toMatchObject({ loads: null, priceTotal: null });
});

it('keeps the order of racks that are alike', () => {
  const twin = { ...frame };
  expect(racksByPrice({ job, racks: [twin, frame] }).map(({ rack }) => rack)).toEqual([twin, frame]);
});

it('puts the rack with the fewest loads first where no price is known', () => {
  const choices = racksByLoads({ job, racks: [small, tiny, frame] });
  expect(choices.map(({ loads }) => loads)).toEqual([6, 24, null]);
});
