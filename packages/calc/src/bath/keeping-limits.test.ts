import { describe, expect, it } from 'vitest';
import { dragOut } from './drag-out.ts';
import { waterDensity } from './density-model.ts';
import { topUpEvaporation } from './evaporation-top-up.ts';
import { bleedAndFeed, dumpShareForImpurity } from './impurity.ts';
import { counterflowRinse, rinseDilution, stillRinse } from './rinse.ts';

const cut = { gramsPerLitre: 60, targetGramsPerLitre: 25, freshGramsPerLitre: 5, volumeL: 400 };
const liquid = { solute: 'KOH', massFraction: 0.5, temperatureC: 60 } as const;
const mark = { solute: 'KOH', fullVolumeL: 500, massFractionWhenFull: 0.5, temperatureC: 60 } as const;

describe('an impurity that is cut', () => {
  it('is at its target after the dump, and after the bleed', () => {
    const { share, dumpL } = dumpShareForImpurity(cut);
    expect(cut.gramsPerLitre * (1 - share) + cut.freshGramsPerLitre * share).toBeCloseTo(25, 12);
    expect(dumpL).toBeCloseTo(400 * share, 12);
    const { volumes, feedL } = bleedAndFeed(cut);
    expect(5 + (60 - 5) * Math.exp(-volumes)).toBeCloseTo(25, 12);
    expect(feedL).toBeCloseTo(400 * volumes, 12);
  });

  it('carries the uncertainty of its analysis by the slope of the share', () => {
    const shareAt = (gramsPerLitre: number) => dumpShareForImpurity({ ...cut, gramsPerLitre }).share;
    const slope = (shareAt(60.001) - shareAt(59.999)) / 0.002;
    const { standardUncertaintyShare } = dumpShareForImpurity({
      ...cut,
      standardUncertaintyGramsPerLitre: 4,
    });
    expect(standardUncertaintyShare).toBeCloseTo(4 * slope, 8);
  });

  it('asks for a second look at one result alone, and at an excess within its doubt', () => {
    const flagsOf = (determinations: number, standardUncertaintyGramsPerLitre: number) =>
      dumpShareForImpurity({ ...cut, determinations, standardUncertaintyGramsPerLitre }).flags;
    expect(flagsOf(2, 17.5)).toEqual([]);
    expect(flagsOf(1, 0)).toEqual([expect.stringContaining('one determination only')]);
    expect(flagsOf(2, 17.6)).toEqual([expect.stringContaining('within twice its standard uncertainty')]);
  });

  it('takes no time where it is at its target, and none is told without a flow', () => {
    expect(bleedAndFeed({ ...cut, gramsPerLitre: 25, flowLPerH: 10 })).toEqual({
      volumes: 0,
      feedL: 0,
      hours: 0,
    });
    expect(bleedAndFeed(cut).hours).toBeNull();
    // Fresh liquor that is no better does not matter where nothing is to be cut.
    expect(dumpShareForImpurity({ ...cut, gramsPerLitre: 20, freshGramsPerLitre: 30 }).share).toBe(0);
    expect(dumpShareForImpurity({ ...cut, gramsPerLitre: 25, freshGramsPerLitre: 25 }).share).toBe(0);
  });
});

describe('a top-up', () => {
  it('is so many litres of water at 20 °C', () => {
    const { waterKg, waterL } = topUpEvaporation({ ...mark, volumeL: 460 });
    expect(waterKg).toBeGreaterThan(30);
    expect(waterL).toBeCloseTo(waterKg / (waterDensity(20) / 1000), 9);
  });

  it('is nothing, and says nothing of gained water, at the full mark', () => {
    const full = topUpEvaporation({ ...mark, massFractionWhenFull: 0.4, volumeL: 500 });
    expect(full.waterKg).toBeCloseTo(0, 9);
    expect(full.flags).toEqual([]);
  });

  it('warns of what the bath is now where that is stronger than when it was full', () => {
    const strengthNow = topUpEvaporation({ ...mark, massFractionWhenFull: 0.48, volumeL: 380 });
    expect(strengthNow.massFractionNow).toBeGreaterThan(0.5);
    expect(strengthNow.flags).not.toEqual([]);
  });
});

describe('rinses', () => {
  it('in a row, each with its share of the water, dilute by the product', () => {
    expect(rinseDilution({ stages: 3, waterPerDragOut: 30, arrangement: 'separate' })).toBeCloseTo(
      11 ** 3,
      9,
    );
    expect(rinseDilution({ stages: 2, waterPerDragOut: 30, arrangement: 'counterflow' })).toBeCloseTo(931, 9);
    expect(counterflowRinse({ stages: 2, dilution: 100 }).powerRule).toBeCloseTo(10, 12);
  });

  it('standing still stand at nothing before the first rack', () => {
    expect(stillRinse({ racks: 0, dragOutLPerRack: 0.4, volumeL: 200 })).toBe(0);
  });
});

describe('what is out of range is named', () => {
  it.each<[string, () => unknown]>([
    ['gramsPerLitre is -1', () => dumpShareForImpurity({ ...cut, gramsPerLitre: -1 })],
    ['gramsPerLitre is 1001', () => dumpShareForImpurity({ ...cut, gramsPerLitre: 1001 })],
    ['freshGramsPerLitre is -1', () => dumpShareForImpurity({ ...cut, freshGramsPerLitre: -1 })],
    ['freshGramsPerLitre is 1001', () => bleedAndFeed({ ...cut, freshGramsPerLitre: 1001 })],
    ['targetGramsPerLitre is 0', () => dumpShareForImpurity({ ...cut, targetGramsPerLitre: 0 })],
    ['targetGramsPerLitre is 1001', () => bleedAndFeed({ ...cut, targetGramsPerLitre: 1001 })],
    ['volumeL is 0', () => dumpShareForImpurity({ ...cut, volumeL: 0 })],
    [
      'standardUncertaintyGramsPerLitre is -1',
      () => dumpShareForImpurity({ ...cut, standardUncertaintyGramsPerLitre: -1 }),
    ],
    ['determinations is 0', () => dumpShareForImpurity({ ...cut, determinations: 0 })],
    ['flowLPerH is 0', () => bleedAndFeed({ ...cut, flowLPerH: 0 })],
    ['areaM2 is -1', () => dragOut({ ...liquid, areaM2: -1, filmMlPerM2: 80 })],
    ['filmMlPerM2 is -1', () => dragOut({ ...liquid, areaM2: 1, filmMlPerM2: -1 })],
    ['filmMlPerM2 is 5001', () => dragOut({ ...liquid, areaM2: 1, filmMlPerM2: 5001 })],
    ['fullVolumeL is 0', () => topUpEvaporation({ ...mark, fullVolumeL: 0, volumeL: 0 })],
    ['volumeL is 551', () => topUpEvaporation({ ...mark, volumeL: 551 })],
    ['massFractionWhenFull is 0', () => topUpEvaporation({ ...mark, massFractionWhenFull: 0, volumeL: 500 })],
    ['dragOutLPerH is -1', () => counterflowRinse({ stages: 1, dilution: 10, dragOutLPerH: -1 })],
    [
      'waterPerDragOut is -1',
      () => rinseDilution({ stages: 1, waterPerDragOut: -1, arrangement: 'separate' }),
    ],
    ['racks is -1', () => stillRinse({ racks: -1, dragOutLPerRack: 0.4, volumeL: 200 })],
    ['volumeL is 0', () => stillRinse({ racks: 1, dragOutLPerRack: 0, volumeL: 0 })],
  ])('%s', (message, call) => {
    expect(call).toThrow(message);
  });
});
