import type pg from 'pg';
import { copied, isMoved, unsaid, type Group } from './copied.ts';

export interface Column {
  name: string;
  type: string;
  /** The table that it refers to, where that one is copied. */
  refersTo: string | null;
}

/** What the database says of its tables, and by how much the keys of one copy lie apart from those of the next. */
export interface Shape {
  columnsOf(table: string): readonly Column[];
  tables: readonly string[];
  /** Distance of the keys of two copies. */
  stride(table: string): number;
  groupOf(table: string): Group | undefined;
}

export async function readShape(client: pg.ClientBase): Promise<Shape> {
  const { rows } = await client.query<Column & { table: string }>(`
    select c.table_name as "table", c.column_name as "name", c.data_type as "type",
           (select k.confrelid::regclass::text from pg_constraint k join pg_attribute a on a.attrelid = k.conrelid and a.attnum = k.conkey[1]
             where k.contype = 'f' and k.conrelid = format('%I', c.table_name)::regclass and a.attname = c.column_name) as "refersTo"
      from information_schema.columns c
     where c.table_schema = 'public' and c.is_generated = 'NEVER' order by c.table_name, c.ordinal_position`);
  const columns = new Map<string, Column[]>();
  for (const { table, name, type, refersTo } of rows) {
    const target = refersTo ?? unsaid[name] ?? null;
    const column = { name, type, refersTo: target !== null && target in copied ? target : null };
    columns.set(table, [...(columns.get(table) ?? []), column]);
  }
  const strides = new Map<string, number>();
  for (const table of Object.keys(copied)) {
    const { rows: found } = await client.query<{ last: number }>(
      `select coalesce(max("id"), 0)::int as "last" from "${table}"`,
    );
    strides.set(table, (found[0]?.last ?? 0) + 1);
  }
  return {
    columnsOf: (table) => columns.get(table) ?? [],
    tables: [...columns.keys()],
    stride: (table) => strides.get(table) ?? 0,
    groupOf: (table) => copied[table],
  };
}

/** The key that a reference to `table` has in the copy `c`: older work lies before, what is kept for years comes after. */
export const keyIn = (shape: Shape, { table, value }: { table: string; value: string }): string => {
  const group = copied[table];
  if (group === undefined) return value;
  return `(${value} ${isMoved(group) ? '-' : '+'} c."${group}" * ${shape.stride(table)})`;
};
