import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { analyseSample } from './analyse-sample.ts';
import { expressFinding } from './express-finding.ts';
import type { SampleMethod, SampleReadings } from './readings.ts';

const method = (titrant: number | null, extra: Partial<SampleMethod['uncertainty']> = {}): SampleMethod => ({
  titrant: titrant === null ? null : { eqPerLitre: titrant, standardUncertaintyEqPerLitre: 0.001 * titrant },
  uncertainty: { readingMl: 0.03, sampleRelative: 0.005, reading: 0.001, ...extra },
  replicates: 1,
  spreadLimit: 0.02,
});
const pipetted = { basis: 'volume', temperatureC: 20, dilution: null, blankMl: 0 } as const;
const found = (readings: SampleReadings, by: SampleMethod) =>
  Object.fromEntries(analyseSample({ readings, method: by }).findings.map((one) => [one.component, one]));

const t1 = {
  kind: 'caustic-two-end-points',
  ...pipetted,
  dilution: { madeUpToMl: 250, takenMl: 25 },
  solute: 'KOH',
  secondReading: 'from-zero',
  replicates: [{ amount: 5, firstEndPointMl: 13.6, secondEndPointMl: 13.95 }],
} as const satisfies SampleReadings;

/* Worked by hand from the stoichiometry of each method; the digits are those of the hand calculation. */
describe('worked examples, entered as raw readings', () => {
  it('T1: KOH with carbonate by two end points: 743.4 and 48.4 g/L; total alkali would say 782.7', () => {
    const result = found(t1, method(0.5, { sampleRelative: 0.006 }));
    expect(result['KOH']?.value).toBeCloseTo(743.4, 1);
    expect(result['K2CO3']?.value).toBeCloseTo(48.4, 1);
    expect(result['totalAlkali']?.value).toBeCloseTo(782.7, 1);
    expect(result['KOH']?.standardUncertainty).toBeCloseTo(5.9, 1);
    expect(result['K2CO3']?.standardUncertainty).toBeCloseTo(5.9, 1);
    expect(100 * (result['KOH']?.amounts?.massFraction ?? 0)).toBeCloseTo(48.4, 1);
    expect(100 * (result['K2CO3']?.amounts?.massFraction ?? 0)).toBeCloseTo(3.15, 2);
  });

  it('T2: KOH by barium chloride, weighed: 49.75 and 1.73 wt%; total alkali 51.15', () => {
    const result = found(
      {
        kind: 'caustic-barium-chloride',
        ...pipetted,
        basis: 'mass',
        solute: 'KOH',
        replicates: [{ amount: 1.5, totalMl: 27.35, hydroxideMl: 26.6 }],
      },
      method(0.5),
    );
    const percent = (key: string) => 100 * (result[key]?.amounts?.massFraction ?? 0);
    expect(percent('KOH')).toBeCloseTo(49.75, 2);
    expect(percent('K2CO3')).toBeCloseTo(1.73, 2);
    expect(percent('totalAlkali')).toBeCloseTo(51.15, 2);
  });

  it.each([
    {
      name: 'T3',
      procedure: 'two-end-points',
      amount: 5,
      eq: 1,
      acidMl: 18.4,
      totalMl: 22.4,
      acid: 180.5,
      al: 7.2,
    },
    {
      name: 'T4',
      procedure: 'fluoride',
      amount: 10,
      eq: 1.005,
      acidMl: 37.1,
      totalMl: 45.2,
      acid: 182.8,
      al: 7.32,
    },
  ] as const)(
    '$name: sulfuric acid $acid g/L with $al g/L of aluminium',
    ({ procedure, eq, acid, al, ...flask }) => {
      const { amount, acidMl, totalMl } = flask;
      const result = found(
        { kind: 'sulfuric-aluminium', ...pipetted, procedure, replicates: [{ amount, acidMl, totalMl }] },
        method(eq),
      );
      expect(result['H2SO4']?.value).toBeCloseTo(acid, 1);
      expect(result['Al']?.value).toBeCloseTo(al, 2);
    },
  );

  it('T4: what one end point without fluoride says is total sulfate, 222.8 g/L, and is called so', () => {
    const result = found(
      {
        kind: 'sulfuric-free-acid',
        ...pipetted,
        aluminium: 'counted',
        replicates: [{ amount: 10, endPointMl: 45.2 }],
      },
      method(1.005),
    );
    expect(Object.keys(result)).toEqual(['totalSulfate']);
    expect(result['totalSulfate']?.value).toBeCloseTo(222.8, 1);
  });

  it('T5: trisodium phosphate 47.7 g/L with 0.92 g/L of hydroxide', () => {
    const result = found(
      {
        kind: 'phosphate',
        ...pipetted,
        secondReading: 'from-zero',
        replicates: [{ amount: 10, firstEndPointMl: 31.4, secondEndPointMl: 60.5 }],
      },
      method(0.1),
    );
    expect(result['Na3PO4']?.value).toBeCloseTo(47.7, 1);
    expect(result['NaOH']?.value).toBeCloseTo(0.92, 2);
  });

  it('phosphoric acid 200.9 g/L', () => {
    const readings = {
      kind: 'phosphoric',
      ...pipetted,
      secondReading: 'from-zero',
      replicates: [{ amount: 2, firstEndPointMl: 8.2, secondEndPointMl: 16.4 }],
    } as const;
    expect(found(readings, method(0.5))['H3PO4']?.value).toBeCloseTo(200.9, 1);
  });

  it('T6: a float at 40 °C: 48.1 wt%, 710.4 g/L there and 716.4 g/L once cooled to 20 °C', () => {
    const analysis = analyseSample({
      readings: {
        kind: 'hydrometer',
        solute: 'KOH',
        scale: 'g/mL',
        calibrationTemperatureC: null,
        dissolved: [],
        replicates: [{ reading: 1.478, temperatureC: 40 }],
      },
      method: method(null),
    });
    const at = (referenceTemperatureC: number) =>
      expressFinding({ analysis, component: 'KOH', unit: 'gramsPerLitre', referenceTemperatureC }).value;
    const share = expressFinding({
      analysis,
      component: 'KOH',
      unit: 'massFraction',
      referenceTemperatureC: null,
    });
    expect(100 * share.value).toBeCloseTo(48.1, 1);
    expect(100 * (share.standardUncertainty ?? 0)).toBeCloseTo(0.1, 2);
    expect(at(40)).toBeCloseTo(710.4, 1);
    expect(at(20)).toBeCloseTo(716.4, 1);
  });

  it('a blank is taken off every reading from zero, and only there', () => {
    const [flask] = t1.replicates;
    const blank = {
      ...t1,
      blankMl: 0.1,
      replicates: [{ ...flask, firstEndPointMl: 13.7, secondEndPointMl: 14.05 }],
    };
    const apart = {
      ...blank,
      secondReading: 'from-first',
      replicates: [{ ...flask, firstEndPointMl: 13.7, secondEndPointMl: 0.35 }],
    } as const;
    for (const readings of [blank, apart])
      expect(found(readings, method(0.5))['K2CO3']?.value).toBeCloseTo(48.37, 2);
  });
});

describe('readings that cannot be, or may not be', () => {
  const twice = (second: object) => ({
    ...t1,
    replicates: [t1.replicates[0], { ...t1.replicates[0], ...second }],
  });

  it('points at the reading that is impossible', () => {
    const readings = twice({ secondEndPointMl: 13.2 });
    expect(() => analyseSample({ readings, method: method(0.5) })).toThrow(
      'replicates.1.secondEndPointMl is 13.2',
    );
    const bare = { ...t1, replicates: [{ ...t1.replicates[0], amount: 0 }] };
    expect(() => analyseSample({ readings: bare, method: method(0.5) })).toThrow('replicates.0.amount is 0');
    const poured = { ...t1, dilution: { madeUpToMl: 250, takenMl: 300 } };
    expect(() => analyseSample({ readings: poured, method: method(0.5) })).toThrow(
      /^dilution.takenMl is 300/,
    );
    expect(() => analyseSample({ readings: { ...t1, replicates: [] }, method: method(0.5) })).toThrow(
      'replicates',
    );
    expect(() => analyseSample({ readings: t1, method: method(null) })).toThrow('titrant');
  });

  it('questions replicates that differ by more than the method allows and their readings explain', () => {
    const apart = analyseSample({
      readings: twice({ firstEndPointMl: 14.2, secondEndPointMl: 14.55 }),
      method: method(0.5),
    });
    expect(apart.questions).toEqual([
      'the replicates of KOH differ by 4.4 %, more than the 2.0 % of the method: repeat',
      'the replicates of totalAlkali differ by 4.2 %, more than the 2.0 % of the method: repeat',
    ]);
    const close = analyseSample({ readings: twice({ firstEndPointMl: 13.63 }), method: method(0.5) });
    expect(close.questions).toEqual([]);
    expect(close.findings[1]?.spread).toBeGreaterThan(0.05);
  });

  it('questions one flask where two are wanted, a warm sample, and caustic without hydroxide', () => {
    const questioned = analyseSample({
      readings: {
        ...t1,
        temperatureC: 60,
        replicates: [{ amount: 5, firstEndPointMl: 5, secondEndPointMl: 11 }],
      },
      method: { ...method(0.5), replicates: 2 },
    }).questions.join(' | ');
    expect(questioned).toContain('wants 2 replicates');
    expect(questioned).toContain('60 °C');
    expect(questioned).toContain('no free hydroxide');
  });

  it('a final rinse of 4 µS/cm was good to 20: what a meter shows counts as a share too', () => {
    const rinse = { kind: 'conductivity', temperatureC: 25, replicates: [{ reading: 0.0004 }] } as const;
    const good = method(null, { reading: 0.00002, readingRelative: 0.02 });
    const [found] = analyseSample({ readings: rinse, method: good }).findings;
    expect(found?.standardUncertainty).toBeCloseTo(Math.hypot(0.00002, 0.02 * 0.0004), 9);
    const bad = { ...good, uncertainty: { ...good.uncertainty, readingRelative: 2 } };
    expect(() => analyseSample({ readings: rinse, method: bad })).toThrow(/readingRelative is 2/);
  });

  it('takes meters, looks and figures as found', () => {
    const ph = analyseSample({
      readings: { kind: 'ph', temperatureC: 25, replicates: [{ reading: 5.6 }, { reading: 6 }] },
      method: { ...method(null, { reading: 0.05 }), spreadLimit: 0.1 },
    });
    expect(ph.findings[0]).toMatchObject({ component: 'pH', value: 5.8, unit: 'pH' });
    expect(ph.findings[0]?.spread).toBeCloseTo(0.4, 9);
    expect(ph.questions).toEqual([
      'the replicates of pH differ by 0.40, more than the 0.10 of the method: repeat',
    ]);
    expect(
      found({ kind: 'appearance', good: false, words: 'milky' }, method(null))['appearance']?.value,
    ).toBe(0);
    const value = {
      component: 'Fe',
      unit: 'gramsPerLitre',
      referenceTemperatureC: 20,
      value: 0.3,
      standardUncertainty: null,
    } as const;
    expect(found({ kind: 'plain', values: [value] }, method(null))['Fe']).toMatchObject(value);
    expect(() => found({ kind: 'plain', values: [value, value] }, method(null))).toThrow(
      'values.1.component',
    );
    const analysis = analyseSample({ readings: { kind: 'plain', values: [value] }, method: method(null) });
    expect(() =>
      expressFinding({ analysis, component: 'Fe', unit: 'massFraction', referenceTemperatureC: null }),
    ).toThrow('gramsPerLitre');
  });
});

describe('for any two flasks', () => {
  it('the mean lies between them and is never less certain than one flask when they agree', () => {
    const flask = fc.record({
      amount: fc.double({ min: 4, max: 6, noNaN: true }),
      firstEndPointMl: fc.double({ min: 10, max: 14, noNaN: true }),
      increment: fc.double({ min: 0.1, max: 3, noNaN: true }),
    });
    fc.assert(
      fc.property(flask, flask, (one, other) => {
        const flasks = [one, other].map(({ increment, ...rest }) => ({
          ...rest,
          secondEndPointMl: rest.firstEndPointMl + increment,
        }));
        const of = (replicates: typeof flasks) => found({ ...t1, replicates }, method(0.5))['KOH'];
        const [a, b] = flasks.map((single) => of([single])?.value ?? NaN).sort((x, y) => x - y);
        const mean = of(flasks)?.value ?? NaN;
        expect(mean).toBeGreaterThanOrEqual((a ?? NaN) * (1 - 1e-12));
        expect(mean).toBeLessThanOrEqual((b ?? NaN) * (1 + 1e-12));
        const [first] = flasks;
        if (first === undefined) return;
        const same = of([first, first]);
        expect(same?.standardUncertainty).toBeLessThan(of([first])?.standardUncertainty ?? 0);
      }),
    );
  });
});
