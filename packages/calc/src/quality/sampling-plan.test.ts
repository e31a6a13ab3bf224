import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { groupedBy, readCsv } from '../../reference/csv.ts';
import { CODE_LETTERS, INSPECTION_LEVELS, type InspectionLevel } from './data/code-letters.ts';
import { diagonalCell, diagonalPlan } from '../../reference/quality/diagonal-rule.ts';
import { type Aql, AQLS, planAt, SEVERITIES, type Severity } from './plan-tables.ts';
import { samplingPlan } from './sampling-plan.ts';

const LETTERS = [...'ABCDEFGHJKLMNPQR'];

/** Every lot size at which the table gives a letter, per letter and level II or another level that reaches it. */
function lotWithLetter(letter: string): { lotSize: number; level: InspectionLevel } {
  for (const row of CODE_LETTERS) {
    const column = row.letters.findIndex((candidate) => candidate === letter);
    const level = INSPECTION_LEVELS[column];
    if (level) return { lotSize: Number.isFinite(row.upTo) ? row.upTo : 1_000_000, level };
  }
  throw new Error(`no lot has letter ${letter}`);
}

describe.each(SEVERITIES)('table of single plans, %s', (severity) => {
  const rows = readCsv(`quality/single_${severity}.csv`).filter(({ letter }) => letter !== 'S');

  it('has a cell for each of 16 letters and 26 AQLs', () => {
    expect(rows).toHaveLength(16 * 26);
  });

  it.each([...groupedBy('letter', rows)])(
    'letter %s leads to the plans of the reference table',
    (letter, cells) => {
      const plans = cells.map(({ aql }) => planAt({ severity, letter, aql: aql as Aql }));
      expect(plans).toEqual(
        cells.map((row) => ({
          letter: row['use_letter'],
          n: Number(row['use_n']),
          ac: Number(row['use_ac']),
          re: Number(row['use_re']),
        })),
      );
      const { lotSize, level } = lotWithLetter(letter);
      for (const [column, plan] of plans.entries()) {
        const found = samplingPlan({ lotSize, level, aql: AQLS[column] ?? '1.0', severity });
        expect(found).toMatchObject({ firstLetter: letter, ...plan, inspect: Math.min(plan.n, lotSize) });
        expect(found.table).toContain(severity);
      }
    },
  );

  it.each(LETTERS)('letter %s follows the diagonal rule', (letter) => {
    for (const aql of AQLS) {
      expect(planAt({ severity, letter, aql }), `${letter} ${aql}`).toEqual(
        diagonalPlan({ severity, letter, aql }),
      );
    }
  });

  it('prints the same own cells as the diagonal rule', () => {
    const printed = rows.map(({ cell, ac, re }) => (cell === 'plan' ? `${ac}/${re}` : cell));
    const ruled = rows.map((row) =>
      diagonalCell({ severity, letter: row['letter'] ?? '', aql: row['aql'] as Aql }),
    );
    expect(ruled).toEqual(printed);
  });
});

describe('worked look-ups', () => {
  it.each(readCsv('quality/sampling_examples.csv'))(
    '$lot pieces, level $level, AQL $aql, $severity',
    (row) => {
      const plan = samplingPlan({
        lotSize: Number(row['lot']),
        level: row['level'] as InspectionLevel,
        aql: row['aql'] as Aql,
        severity: row['severity'] as Severity,
      });
      expect(plan).toMatchObject({
        firstLetter: row['first_letter'],
        letter: row['letter'],
        n: Number(row['table_n']),
        ac: Number(row['ac']),
        re: Number(row['re']),
        inspect: Number(row['inspect_n']),
      });
      expect(plan.flags.some((flag) => flag.includes('every piece'))).toBe(row['inspect_all'] === 'True');
    },
  );
});

describe('code letters', () => {
  const rows = readCsv('quality/code_letters.csv');

  it.each(rows)('lots of $lot_min to $lot_max', (row) => {
    for (const lotSize of [Number(row['lot_min']), Number(row['lot_max']) || 5_000_000]) {
      for (const level of INSPECTION_LEVELS) {
        expect(samplingPlan({ lotSize, level, aql: '1.0', severity: 'normal' }).firstLetter).toBe(row[level]);
      }
    }
  });
});

describe('pitfalls', () => {
  it('an arrow moves the sample size, not only the acceptance number', () => {
    expect(samplingPlan({ lotSize: 200, level: 'II', aql: '1.0', severity: 'normal' })).toMatchObject({
      firstLetter: 'G',
      n: 50,
    });
  });

  it('takes an AQL as number, and refuses what the tables do not print', () => {
    const lot = { lotSize: 200, level: 'II', severity: 'normal' } as const;
    expect(samplingPlan({ ...lot, aql: 0.01 }).aql).toBe('0.010');
    expect(samplingPlan({ ...lot, aql: 1 })).toEqual(samplingPlan({ ...lot, aql: '1.0' }));
    expect(() => samplingPlan({ ...lot, aql: 2 })).toThrow(/aql is 2; allowed: 0\.010, .*1000/);
  });

  it('a lot of one is inspected', () => {
    const plan = samplingPlan({ lotSize: 1, level: 'II', aql: '6.5', severity: 'normal' });
    expect(plan).toMatchObject({ inspect: 1, n: 2, ac: 0 });
    expect(plan.flags[0]).toContain('below the table');
  });

  it('says so where a reduced plan leaves a gap', () => {
    const plan = samplingPlan({ lotSize: 1000, level: 'II', aql: '2.5', severity: 'reduced' });
    expect(plan.flags).toEqual(['a count above 2 and below 5 accepts this lot and ends reduced inspection']);
  });

  it.each([
    [{ lotSize: 0 }, 'lotSize'],
    [{ lotSize: 10.5 }, 'lotSize'],
    [{ level: 'IV' as InspectionLevel }, 'level'],
    [{ severity: 'strict' as Severity }, 'severity'],
  ])('refuses %o', (wrong, argument) => {
    const right = { lotSize: 100, level: 'II', aql: '1.0', severity: 'normal' } as const;
    expect(() => samplingPlan({ ...right, ...wrong })).toThrow(
      expect.objectContaining({ name: 'CalcError', argument }),
    );
  });
});

describe('properties', () => {
  const lot = fc.integer({ min: 2, max: 600_000 });
  const aql = fc.constantFrom(...AQLS);
  const level = fc.constantFrom(...INSPECTION_LEVELS);

  it('a larger lot never has a smaller first letter', () => {
    fc.assert(
      fc.property(lot, lot, level, (a, b, anyLevel) => {
        const letters = [Math.min(a, b), Math.max(a, b)].map(
          (lotSize) => samplingPlan({ lotSize, level: anyLevel, aql: '1.0', severity: 'normal' }).firstLetter,
        );
        expect(letters).toEqual([...letters].sort());
      }),
    );
  });

  it('tightened never accepts a larger share of the sample than normal', () => {
    fc.assert(
      fc.property(lot, aql, (lotSize, anyAql) => {
        const at = (severity: Severity) => samplingPlan({ lotSize, level: 'II', aql: anyAql, severity });
        const [normal, tightened] = [at('normal'), at('tightened')];
        expect(tightened.ac / tightened.n).toBeLessThanOrEqual(normal.ac / normal.n);
      }),
    );
  });
});
