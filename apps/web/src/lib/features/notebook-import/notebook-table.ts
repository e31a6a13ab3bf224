import type { BathComponent, NotebookMapping } from '@huelot/contracts';
import type { Separator, TextTable } from '$lib/features/table-import/text-table.ts';

/** What one column holds: a component by its key, or one of the others. */
export interface ColumnUse {
  column: string;
  holds: 'nothing' | 'sampledAt' | 'analyst' | 'notes' | `component:${string}`;
  isPercent: boolean;
  standardUncertainty: number | null;
}

/** What the columns most likely hold, by their heads and what stands below them. */
export function guessUses(table: TextTable, components: readonly BathComponent[]): ColumnUse[] {
  const taken = new Set<string>();
  const once = (holds: ColumnUse['holds']) => (taken.has(holds) ? 'nothing' : (taken.add(holds), holds));
  return table.columns.map((column, index): ColumnUse => {
    const head = column.toLowerCase();
    const component = components.find(
      ({ key, name }) =>
        head === name.toLowerCase() ||
        head.split(/[\s,()[\]]+/)[0] === key.toLowerCase() ||
        head === key.toLowerCase(),
    );
    const bare = { column, isPercent: false, standardUncertainty: null };
    if (component) {
      const figures = table.rows.slice(0, 20).map((row) => Number((row[index] ?? '').replace(',', '.')));
      const isPercent =
        component.unit === 'massFraction' && (head.includes('%') || figures.some((figure) => figure > 1));
      return { ...bare, holds: once(`component:${component.key}`), isPercent };
    }
    if (/date|day|sampl|when|time/.test(head)) return { ...bare, holds: once('sampledAt') };
    if (/analyst|\bby\b|who|person/.test(head)) return { ...bare, holds: once('analyst') };
    if (/note|remark|comment/.test(head)) return { ...bare, holds: once('notes') };
    return { ...bare, holds: 'nothing' };
  });
}

/** How days are written, as far as the column tells: `31.03.2026` can only be a day before a month. */
export function guessDayOrder(days: readonly string[]): NotebookMapping['dayOrder'] {
  const parts = days.map((day) =>
    day
      .trim()
      .split(/[-./ T,]+/)
      .map(Number),
  );
  if (parts.some(([first = 0]) => first > 31)) return 'year-month-day';
  return parts.some(([, second = 0]) => second > 12) ? 'month-day-year' : 'day-month-year';
}

/** The mapping as it is sent, or what is still missing. */
export function mappingOf({
  uses,
  components,
  separator,
  dayOrder,
  decimal,
}: {
  uses: readonly ColumnUse[];
  components: readonly BathComponent[];
  separator: Separator;
  dayOrder: NotebookMapping['dayOrder'];
  decimal: NotebookMapping['decimal'];
}): { mapping: NotebookMapping } | { missing: string } {
  const holding = (holds: ColumnUse['holds']) => uses.find((use) => use.holds === holds)?.column ?? null;
  const sampledAt = holding('sampledAt');
  if (sampledAt === null) return { missing: 'Say which column holds the day of the sample.' };
  const values = uses.flatMap(({ column, holds, isPercent, standardUncertainty }) => {
    const component = components.find(({ key }) => holds === `component:${key}`);
    if (!component) return [];
    const { key, unit, referenceTemperatureC } = component;
    return [{ column, component: key, unit, isPercent, referenceTemperatureC, standardUncertainty }];
  });
  if (values.length === 0) return { missing: 'Say which columns hold figures of the bath.' };
  return {
    mapping: {
      sampledAt,
      dayOrder,
      decimal,
      separator,
      analyst: holding('analyst'),
      notes: holding('notes'),
      values,
    },
  };
}
