import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readCsv } from '../../reference/csv.ts';
import { workedExamples } from '../../reference/worked-examples.ts';
import { dragOutFilms } from './data/drag-out.ts';
import { density } from './density.ts';
import { dragOut, dragOutFromUse } from './drag-out.ts';
import { topUpEvaporation } from './evaporation-top-up.ts';
import { bleedAndFeed, dumpShareForImpurity } from './impurity.ts';
import { counterflowRinse, rinseDilution, stillRinse } from './rinse.ts';

const litresPerGallon = 3.785412;

/** Each tolerance is half of the last digit that the source prints. */
describe('worked examples', () => {
  const steel = () =>
    dragOut({ areaM2: 12, filmMlPerM2: 120, solute: 'KOH', massFraction: 0.5, temperatureC: 60 });
  const flow = (stages: number, dilution: number): number =>
    counterflowRinse({ stages, dilution, dragOutLPerH: 1.44 }).flowLPerH ?? NaN;

  it.each(
    workedExamples([
      ['steel parts: drag-out, L/h', () => steel().litres, 1.44, 1e-9],
      ['steel parts: KOH, kg/h', () => steel().soluteKg, 1.07, 0.005],
      ['steel parts: one stage, L/h', () => flow(1, 1060), 1525, 0.5],
      ['steel parts: two stages, L/h', () => flow(2, 1060), 46, 0.5],
      [
        'steel parts: two stages, ratio',
        () => counterflowRinse({ stages: 2, dilution: 1060 }).waterPerDragOut,
        32.1,
        // Printed from 742.4/0.7 before that was rounded to 1060.
        0.06,
      ],
      ['steel parts: three stages, L/h', () => flow(3, 1060), 14, 0.5],
      [
        'steel parts: three stages, ratio',
        () => counterflowRinse({ stages: 3, dilution: 1060 }).waterPerDragOut,
        9.84,
        0.005,
      ],
      ['1000:1, one stage', () => counterflowRinse({ stages: 1, dilution: 1000 }).waterPerDragOut, 999, 1e-9],
      [
        '1000:1, two stages',
        () => counterflowRinse({ stages: 2, dilution: 1000 }).waterPerDragOut,
        31.1,
        0.05,
      ],
      [
        '1000:1, three stages',
        () => counterflowRinse({ stages: 3, dilution: 1000 }).waterPerDragOut,
        9.64,
        0.005,
      ],
      [
        '1000:1, one stage, power rule',
        () => counterflowRinse({ stages: 1, dilution: 1000 }).powerRule,
        1000,
        1e-9,
      ],
      [
        '1000:1, two stages, power rule',
        () => counterflowRinse({ stages: 2, dilution: 1000 }).powerRule,
        31.6,
        0.05,
      ],
      [
        '1000:1, three stages, power rule',
        () => counterflowRinse({ stages: 3, dilution: 1000 }).powerRule,
        10,
        1e-9,
      ],
      [
        'rinsing manual: 1 gal/h into 99 gal/h is 100:1',
        () => rinseDilution({ stages: 1, waterPerDragOut: 99, arrangement: 'counterflow' }),
        100,
        1e-9,
      ],
      [
        'rinsing manual: 2000 gal/h on 1 gal/h is 2001:1',
        () => rinseDilution({ stages: 1, waterPerDragOut: 2000, arrangement: 'counterflow' }),
        2001,
        1e-9,
      ],
      [
        'monthly use: 1000 lb of NaOH at 20 oz/gal is 800 gal',
        () => dragOutFromUse({ addedKg: 453.59237, gramsPerLitre: 20 * 7.489151 }).litres / litresPerGallon,
        800,
        0.5,
      ],
      // 250 g/L, 20 mL/ft2, 600 ft2/h: 12 L/h.
      [
        'copper panels: 3000 g/h',
        () =>
          250 *
          dragOut({
            areaM2: 600 / 10.7639104,
            filmMlPerM2: 20 * 10.7639104,
            solute: 'H2SO4',
            massFraction: 0,
            temperatureC: 20,
          }).litres,
        3000,
        0.5,
      ],
      [
        'two separate rinses at a ratio of 60',
        () => rinseDilution({ stages: 2, waterPerDragOut: 60, arrangement: 'separate' }),
        961,
        1e-9,
      ],
      [
        'still rinse, 50 racks of 0.4 L into 200 L',
        () => stillRinse({ racks: 50, dragOutLPerRack: 0.4, volumeL: 200 }),
        1 - Math.exp(-0.1),
        1e-12,
      ],
    ]),
  )('$name', ({ found, right, within }) => {
    expect(Math.abs(found() - right)).toBeLessThanOrEqual(within);
  });

  it('the table of films is the same in mL/m2 and in gal/1000 ft2', () => {
    const rows = readCsv('bath/drag_out_ranges.csv').filter((row) => row['evidence'] === 'M');
    expect(rows).toHaveLength(7);
    for (const row of rows) {
      const films: Record<string, number> = dragOutFilms[row['shape'] as keyof typeof dragOutFilms];
      expect(films[row['draining'] ?? '']).toBe(Number(row['mL_per_m2']));
      expect(films[row['draining'] ?? '']).toBeCloseTo(Number(row['gal_per_1000ft2']) * 40.746, 0);
    }
  });
});

describe('impurities', () => {
  const cut = { gramsPerLitre: 60, targetGramsPerLitre: 25, volumeL: 400 };

  it('a bath within its limit is left alone', () => {
    expect(dumpShareForImpurity({ ...cut, gramsPerLitre: 25 })).toMatchObject({
      share: 0,
      dumpL: 0,
      flags: [],
    });
    expect(bleedAndFeed({ ...cut, gramsPerLitre: 20 })).toMatchObject({ volumes: 0, feedL: 0 });
  });

  it('fresh liquor with some of it takes a larger share, and as much as the target is no help', () => {
    expect(dumpShareForImpurity({ ...cut, freshGramsPerLitre: 5 }).share).toBeCloseTo(35 / 55, 12);
    expect(() => dumpShareForImpurity({ ...cut, freshGramsPerLitre: 25 })).toThrow(
      'freshGramsPerLitre is 25',
    );
    expect(() => bleedAndFeed({ ...cut, freshGramsPerLitre: 30 })).toThrow('freshGramsPerLitre is 30');
  });

  it('bleeding takes its time and always more liquor than a dump', () => {
    expect(bleedAndFeed({ ...cut, flowLPerH: 10 }).hours).toBeCloseTo(35.02, 2);
    fc.assert(
      fc.property(fc.double({ min: 1.01, max: 100, noNaN: true }), (over) => {
        const given = { gramsPerLitre: 5 * over, targetGramsPerLitre: 5, volumeL: 100 };
        expect(bleedAndFeed(given).feedL).toBeGreaterThan(dumpShareForImpurity(given).dumpL);
      }),
    );
  });
});

describe('evaporation', () => {
  const mark = { solute: 'KOH', fullVolumeL: 500, massFractionWhenFull: 0.5, temperatureC: 60 } as const;

  it('a cold bath that drew water has nothing to be topped up with', () => {
    const found = topUpEvaporation({ ...mark, volumeL: 505 });
    expect(found.waterKg).toBe(0);
    expect(found.lostKg).toBeLessThan(-5);
    expect(found.massFractionNow).toBeLessThan(0.5);
    expect(found.flags).toContain('the bath has gained water: nothing to add');
  });

  it('refuses a level that cannot be', () => {
    expect(() => topUpEvaporation({ ...mark, volumeL: 200 })).toThrow('volumeL is 200');
    const strong = { ...mark, massFractionWhenFull: 0.8, volumeL: 260 };
    expect(() => topUpEvaporation(strong)).toThrow('still holds the solute');
  });

  it('what is put back restores mass, strength and level', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.85, max: 1.05, noNaN: true }), (level) => {
        const found = topUpEvaporation({ ...mark, volumeL: 500 * level });
        const rho = (massFraction: number): number =>
          density({ solute: 'KOH', massFraction, temperatureC: 60 }).kgPerM3 / 1000;
        const nowKg = rho(found.massFractionNow) * 500 * level;
        const restored = (nowKg * found.massFractionNow) / (nowKg + found.lostKg);
        expect(restored).toBeCloseTo(0.5, 9);
        expect((nowKg + found.lostKg) / rho(restored)).toBeCloseTo(500, 6);
      }),
    );
  });
});

describe('drag-out and rinses, for any job', () => {
  it('solute and water are the liquid, and grow with the area', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 0.6, noNaN: true }),
        fc.double({ min: 0.01, max: 100, noNaN: true }),
        (w, areaM2) => {
          const one = dragOut({ areaM2, filmMlPerM2: 80, solute: 'NaOH', massFraction: w, temperatureC: 50 });
          const two = dragOut({
            areaM2: 2 * areaM2,
            filmMlPerM2: 80,
            solute: 'NaOH',
            massFraction: w,
            temperatureC: 50,
          });
          const { kgPerM3 } = density({ solute: 'NaOH', massFraction: w, temperatureC: 50 });
          expect(one.soluteKg + one.waterKg).toBeCloseTo((one.litres * kgPerM3) / 1000, 9);
          expect(two.litres).toBeCloseTo(2 * one.litres, 9);
        },
      ),
    );
  });

  it('counterflow: the flow found gives the dilution asked, and one more stage never needs more water', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 8 }),
        fc.double({ min: 1, max: 1e6, noNaN: true }),
        (stages, dilution) => {
          const { waterPerDragOut, powerRule } = counterflowRinse({ stages, dilution });
          const back = rinseDilution({ stages, waterPerDragOut, arrangement: 'counterflow' });
          expect(back / dilution).toBeCloseTo(1, 9);
          expect(waterPerDragOut).toBeLessThanOrEqual(powerRule);
          if (dilution > 2) {
            const more = counterflowRinse({ stages: stages + 1, dilution });
            expect(more.waterPerDragOut).toBeLessThanOrEqual(waterPerDragOut * (1 + 1e-9));
          }
        },
      ),
    );
  });

  it('refuses what no rinse is', () => {
    expect(() => counterflowRinse({ stages: 0, dilution: 100 })).toThrow('stages is 0');
    expect(() => counterflowRinse({ stages: 2, dilution: 0.5 })).toThrow('dilution is 0.5');
    expect(() =>
      rinseDilution({ stages: 2, waterPerDragOut: 5, arrangement: 'serial' as 'separate' }),
    ).toThrow('arrangement');
    expect(() => stillRinse({ racks: 1, dragOutLPerRack: 5, volumeL: 4 })).toThrow('dragOutLPerRack is 5');
  });
});
