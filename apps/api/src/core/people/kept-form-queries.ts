import type { getKeptForm, keepForm, KeptForm } from '@huelot/contracts';
import type { z } from 'zod';
import { sql, type SqlExecutor } from '../../db/client.ts';

const columns = sql`"id", "path", "title", "version",
  to_char("keptAt" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"') as "keptAt"`;

export const listKept = (execute: SqlExecutor, personId: number): Promise<KeptForm[]> =>
  execute(
    sql`select ${columns} from "kept_form" where "personId" = ${personId} order by "kept_form"."keptAt" desc`,
  );

/** A form of the person; another person's is not there. */
export const readKept = (execute: SqlExecutor, { personId, id }: { personId: number; id: number }) =>
  execute<z.input<typeof getKeptForm.reply>>(
    sql`select ${columns}, "values" from "kept_form" where "id" = ${id} and "personId" = ${personId}`,
  );

export const writeKept = (execute: SqlExecutor, personId: number, input: z.output<typeof keepForm.body>) =>
  execute<KeptForm>(sql`
    insert into "kept_form" ("personId", "path", "title", "version", "values")
    values (${personId}, ${input.path}, ${input.title}, ${input.version}, ${JSON.stringify(input.values)}::jsonb)
    on conflict ("personId", "path") do update
      set "title" = excluded."title", "version" = excluded."version", "values" = excluded."values", "keptAt" = now()
    returning ${columns}`);

export const removeKept = (execute: SqlExecutor, { personId, id }: { personId: number; id: number }) =>
  execute<{ title: string }>(
    sql`delete from "kept_form" where "id" = ${id} and "personId" = ${personId} returning "title"`,
  );
