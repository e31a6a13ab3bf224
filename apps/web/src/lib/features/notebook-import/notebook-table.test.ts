import { NotebookMapping, type BathComponent } from '@huelot/contracts';
import { describe, expect, it } from 'vitest';
import { guessDecimal, readTable } from '$lib/features/table-import/text-table.ts';
import { guessDayOrder, guessUses, mappingOf } from './notebook-table.ts';

const none = { target: null, low: null, high: null, stopLow: null, stopHigh: null };
const components: BathComponent[] = [
  { key: 'KOH', name: 'potassium hydroxide', unit: 'massFraction', referenceTemperatureC: null, ...none },
  { key: 'Fe', name: 'iron', unit: 'gramsPerLitre', referenceTemperatureC: 20, ...none },
];
const read = (text: string) => {
  const table = readTable(text);
  if ('fault' in table) throw new Error(table.fault);
  return table;
};

describe('a notebook', () => {
  const table = read(
    '\uFEFFDate;KOH wt%;iron;By;shade\n31.03.2026;49,5;"1,2";"Ada; the elder";blue\n\n1.4.2026;49;1;B;red\n',
  );

  it('is read as its separator says, without its empty lines', () => {
    expect(table.separator).toBe('semicolon');
    expect(table.columns).toEqual(['Date', 'KOH wt%', 'iron', 'By', 'shade']);
    expect(table.rows.map(([day]) => day)).toEqual(['31.03.2026', '1.4.2026']);
    expect(table.rows[0]?.[3]).toBe('Ada; the elder');
  });

  it('is understood by its heads and its figures', () => {
    const uses = guessUses(table, components);
    expect(uses.map(({ holds }) => holds)).toEqual([
      'sampledAt',
      'component:KOH',
      'component:Fe',
      'analyst',
      'nothing',
    ]);
    expect(uses[1]?.isPercent).toBe(true);
    expect(guessDecimal(table)).toBe('comma');
    const mapped = mappingOf({
      uses,
      components,
      separator: table.separator,
      dayOrder: 'day-month-year',
      decimal: 'comma',
    });
    expect('mapping' in mapped && NotebookMapping.parse(mapped.mapping)).toMatchObject({
      sampledAt: 'Date',
      analyst: 'By',
      notes: null,
      values: [
        { column: 'KOH wt%', component: 'KOH', isPercent: true },
        { column: 'iron', component: 'Fe', unit: 'gramsPerLitre', referenceTemperatureC: 20 },
      ],
    });
  });

  it('says what is missing', () => {
    const asked = { components, separator: 'comma', dayOrder: 'year-month-day', decimal: 'point' } as const;
    const use = { isPercent: false, standardUncertainty: null };
    expect(mappingOf({ ...asked, uses: [] })).toEqual({ missing: expect.any(String) as string });
    const onlyDay = [{ column: 'day', holds: 'sampledAt', ...use } as const];
    expect('missing' in mappingOf({ ...asked, uses: onlyDay })).toBe(true);
  });

  it('gives no component to two columns', () =>
    expect(guessUses(read('day,KOH,KOH (again)\n'), components).map(({ holds }) => holds)).toEqual([
      'sampledAt',
      'component:KOH',
      'nothing',
    ]));
});

it.each([
  ['2026-03-31 08:10', 'year-month-day'],
  ['31.3.2026', 'day-month-year'],
  ['3/31/2026', 'month-day-year'],
  ['3/4/2026', 'day-month-year'],
])('takes %s for %s', (day, order) => expect(guessDayOrder([day])).toBe(order));

it('refuses what has no columns', () => expect(readTable('a picture\n')).toHaveProperty('fault'));
it('refuses a quote that never ends', () => expect(readTable('a,b\n"1,2')).toHaveProperty('fault'));
