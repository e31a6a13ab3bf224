import { randomUUID } from 'node:crypto';
import { z } from 'zod';
import type { Ask } from './app.ts';
import { endpoints } from './endpoints.ts';

/** Which row of the living data each update endpoint is tried on, by the path of the endpoint. */
export type Masters = Record<string, readonly (number | string)[]>;

/** The paths of every endpoint that replaces a record as a whole. */
export const updatePaths = endpoints.flatMap(([, { method, path }]) => (method === 'PUT' ? [path] : []));

interface Edit {
  /** Only these fields, by their place in the contract; all of them where it is left out. */
  chooses?: (index: number) => boolean;
  /** What is added to texts. */
  salt?: string;
}

/**
 * Changes of a record what its update endpoint lets anybody change, as far as the record allows. Returns the fields that
 * changed; a refusal as frozen changes none.
 */
export async function edit(
  ask: Ask,
  { path, key }: { path: string; key: number | string },
  { chooses = () => true, salt = 'changed' }: Edit = {},
): Promise<string[]> {
  const address = `/api${path.replace(/:\w+/, String(key))}`;
  const endpoint = endpoints.find(([, one]) => one.method === 'PUT' && one.path === path)?.[1];
  const { shape } = endpoint?.body as z.ZodObject;
  const before = await readRow(ask, { path, address, key });
  if (before === null) return [];
  const unchanged = Object.fromEntries(
    Object.keys(shape).flatMap((field) => {
      const value = field === 'archived' ? false : valueOf(before, field);
      if (value === undefined && field === 'reason') return [[field, 'tried in a test']];
      return value === undefined ? [] : [[field, value]];
    }),
  );
  const body = Object.fromEntries(
    Object.entries(unchanged).map(([field, value], index) => [
      field,
      chooses(index) ? different(value, { field, salt, schema: shape[field] as z.ZodType }) : value,
    ]),
  );
  for (;;) {
    const reply = await ask({
      method: 'PUT',
      url: address,
      payload: body,
      headers: { 'if-match': `"${String(before['version'])}"` },
    });
    if (reply.statusCode === 200)
      return Object.keys(body).filter(
        (field) => JSON.stringify(body[field]) !== JSON.stringify(unchanged[field]),
      );
    if (reply.statusCode === 409) return [];
    const { issues = [] } = reply.json<{ issues?: { path: string }[] }>();
    const refused = new Set(issues.map((issue) => issue.path.split('.')[0] ?? ''));
    const kept = [...refused].filter((field) => body[field] !== unchanged[field]);
    // Where the fault is between fields, the next that changed goes back.
    const back =
      kept.length > 0 ? kept : Object.keys(body).filter((field) => body[field] !== unchanged[field]);
    if (back.length === 0) throw new Error(`${address}: ${reply.statusCode} ${reply.body}`);
    for (const field of kept.length > 0 ? kept : back.slice(0, 1)) body[field] = unchanged[field];
  }
}

/**
 * The record as its form would load it: from its own page, alone or beside what belongs to it, or out of the list that
 * has it; null once it left that.
 */
async function readRow(
  ask: Ask,
  { path, address, key }: { path: string; address: string; key: number | string },
): Promise<Record<string, unknown> | null> {
  const own = endpoints.some(([, one]) => one.method === 'GET' && one.path === path);
  const read = await ask({ url: own ? address : address.replace(/\/[^/]+$/, '') });
  if (read.statusCode !== 200) throw new Error(`${address}: ${read.body}`);
  if (own) {
    const page = read.json<Record<string, unknown>>();
    const beside = Object.values(page).find(
      (one): one is Record<string, unknown> =>
        typeof one === 'object' && one !== null && 'version' in one && 'id' in one && one.id === key,
    );
    return 'version' in page ? page : (beside ?? page);
  }
  const { items } = read.json<{ items: Record<string, unknown>[] }>();
  return items.find((item) => item['id'] === key) ?? null;
}

/** The value a form would start from; `materialId` is that of the `material` in the reply. */
function valueOf(record: Record<string, unknown>, field: string): unknown {
  if (field in record) return record[field];
  const named = record[field.replace(/Id$/, '')] as { id?: unknown } | null | undefined;
  return field.endsWith('Id') ? (named?.id ?? null) : undefined;
}

function different(
  value: unknown,
  { field, salt, schema }: { field: string; salt: string; schema: z.ZodType | undefined },
): unknown {
  const inner = bare(schema);
  // Whoever edits goes on editing, and a reason is no part of the record.
  if (field === 'roles' || field === 'reason') return value;
  if (field === 'timeZone') return value === 'UTC' ? 'Pacific/Auckland' : 'UTC';
  if (inner instanceof z.ZodEnum)
    return inner.options.find((option) => option !== value && option !== 'other') ?? value;
  if (field === 'email') return `${randomUUID()}@example.com`;
  if (typeof value === 'string') {
    if (field === 'currency') return value === 'CHF' ? 'USD' : 'CHF';
    return /^\d{4}-\d\d-\d\d$/.test(value) ? '2098-12-31' : `${value} ${salt}`;
  }
  if (typeof value === 'number') return Number.isInteger(value) ? value + 1 : value * 1.01;
  if (Array.isArray(value)) {
    const element = inner instanceof z.ZodArray ? (inner.element as z.ZodType) : undefined;
    return value.map((item) => different(item, { field: '', salt, schema: element }));
  }
  if (typeof value === 'object' && value !== null)
    return Object.fromEntries(
      Object.entries(value).map(([name, one]) => [
        name,
        name === 'kind' ? one : different(one, { field: name, salt, schema: undefined }),
      ]),
    );
  return value;
}

/** A schema without what only says that the value may be missing. */
function bare(schema: z.ZodType | undefined): z.ZodType | undefined {
  const { innerType } = (schema?.def ?? {}) as { innerType?: z.ZodType };
  return innerType === undefined ? schema : bare(innerType);
}
