import { FormState } from './form.svelte.ts';

interface Options<R, V> {
  record: R;
  /** Reads the record that a clash sends back. */
  schema: { parse: (current: unknown) => R };
  valuesOf: (record: R) => V;
  send: (values: V, version: number) => Promise<R>;
  done: (record: R) => void | Promise<void>;
}

/**
 * The form that edits a record: it begins from the record's values and version, and reads both anew where somebody
 * else saved meanwhile.
 *
 * @example
 * const form = editForm({
 *   record: tank,
 *   schema: Tank,
 *   valuesOf,
 *   send: (body, version) => api(updateTank, { params: { id: tank.id }, body, version }),
 *   done: () => goto(`/tanks/${tank.id}`),
 * });
 */
export const editForm = <R extends { version: number }, V extends object>({
  record,
  schema,
  valuesOf,
  send,
  done,
}: Options<R, V>): FormState<V, R> =>
  new FormState({
    values: valuesOf(record),
    editing: {
      version: record.version,
      reread: (current) => {
        const theirs = schema.parse(current);
        return { values: valuesOf(theirs), version: theirs.version };
      },
    },
    send,
    done,
  });
