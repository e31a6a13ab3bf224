import { may, type Nonconformance, type NonconformanceEntry } from '@huelot/contracts';
import { readFiles, toStoredFile } from '../../core/files/index.ts';
import type { Tx } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import * as queries from './queries.ts';

/** One nonconformance as it stands, with everything beside it. */
export async function view(
  { execute }: Pick<Tx, 'execute'>,
  { actor, id }: { actor: Pick<Actor, 'roles'>; id: number },
): Promise<Nonconformance> {
  const row = orNotFound(await queries.readNonconformance(execute, id), `nonconformance ${id}`);
  const dispositions = await queries.readDispositions(execute, id);
  const rows = await queries.readEntries(execute, id);
  const files = (
    await readFiles(
      execute,
      rows.flatMap(({ fileId }) => fileId ?? []),
    )
  ).map(toStoredFile);
  const seesCost = may(actor.roles, 'inspection.write') || may(actor.roles, 'rates.read');
  const entries = rows.map(({ fileId, at, ...entry }): NonconformanceEntry => ({
    ...entry,
    file: files.find((file) => file.id === fileId) ?? null,
    at: at.toISOString(),
  }));
  return {
    ...row,
    openedAt: row.openedAt.toISOString(),
    dispositions: dispositions.map(({ at, ...one }) => ({ ...one, at: at.toISOString() })),
    entries: seesCost ? entries : entries.filter(({ kind }) => kind !== 'cost'),
    missing: row.state === 'closed' ? [] : missingOf(row, entries),
    cost: seesCost
      ? { currency: await queries.readCurrency(execute), total: await queries.readTotalCost(execute, id) }
      : null,
  };
}

/** What has to be there before it is closed: every piece decided about, a cause, and each action done and found to work. */
export function missingOf(
  { undecided }: Pick<queries.NonconformanceRow, 'undecided'>,
  entries: readonly Pick<NonconformanceEntry, 'id' | 'kind' | 'text' | 'actionId' | 'effective'>[],
): string[] {
  const since = entries.findLastIndex(({ kind }) => kind === 'reopened');
  const actions = entries.filter(({ kind }) => kind === 'action');
  return [
    ...(undecided > 0 ? [`a disposition of ${undecided} more ${undecided === 1 ? 'piece' : 'pieces'}`] : []),
    ...(entries.some(({ kind }) => kind === 'cause') ? [] : ['the cause']),
    ...(actions.length > 0 ? [] : ['an action against the cause']),
    ...actions.flatMap(({ id, text }) => {
      const done = entries.findLast((one) => one.kind === 'action-done' && one.actionId === id);
      const effect = entries.findLast((one) => one.kind === 'effect' && one.actionId === id);
      if (done === undefined) return [`the end of “${short(text)}”`];
      if (effect === undefined) return [`a look at the effect of “${short(text)}”`];
      return effect.effective === true || actions.some((other) => other.id > effect.id)
        ? []
        : [`another action: “${short(text)}” did not work`];
    }),
    ...(since >= 0 && since === entries.length - 1 ? ['what was done since it was opened again'] : []),
  ];
}

const short = (text: string) => (text.length > 60 ? `${text.slice(0, 59)}…` : text);
