import type { Endpoint } from '@huelot/contracts';
import { z } from 'zod';

interface JsonSchema {
  type?: string | string[];
  format?: string;
  properties?: Record<string, JsonSchema>;
  required?: string[];
  items?: JsonSchema;
  minItems?: number;
  anyOf?: JsonSchema[];
  oneOf?: JsonSchema[];
  enum?: unknown[];
  const?: unknown;
  minimum?: number;
  exclusiveMinimum?: number;
  maximum?: number;
  exclusiveMaximum?: number;
}

/**
 * A body that an endpoint's contract lets through, with as little in it as the contract allows. What it names need not
 * exist; `more` stands over it.
 */
export function leastBody({ body }: Endpoint, extra: object = {}): unknown {
  const schema = z.toJSONSchema(body, { unrepresentable: 'any', io: 'input' }) as JsonSchema;
  for (const words of ['1', 'Word', 'EUR', 'Europe/Vienna', 'a@example.com', '/word']) {
    const value = { ...(leastOf(schema, words) as object), ...extra };
    if ('timeZone' in value) value.timeZone = 'Europe/Vienna';
    if ('currency' in value) value.currency = 'EUR';
    // Coupons that are run at a tank stay in for a time.
    if ('intervalS' in value && 'kind' in value) Object.assign(value, { kind: 'coupons', timeS: 60 });
    // In words only, a colour standard asks for nothing else.
    if ('grade' in value && 'tolerance' in value) Object.assign(value, { grade: 'word', instrument: '' });
    if ('iban' in value) Object.assign(value, { country: '', iban: '', bic: '' });
    if ('fingerprint' in value) value.fingerprint = '0'.repeat(64);
    if (body.safeParse(value).success) return value;
  }
  throw new Error(`no body fits: ${body.safeParse(leastOf(schema, '1')).error?.message}`);
}

function leastOf(schema: JsonSchema, words: string): unknown {
  const choices = schema.anyOf ?? schema.oneOf;
  if (choices !== undefined)
    return leastOf(choices.find(({ type }) => type === 'null') ?? choices[0] ?? {}, words);
  if ('const' in schema) return schema.const;
  if (schema.enum !== undefined) return schema.enum[0];
  if (schema.type === 'null' || Array.isArray(schema.type)) return null;
  if (schema.type === 'boolean') return false;
  if (schema.type === 'array')
    return Array.from({ length: schema.minItems ?? 0 }, () => leastOf(schema.items ?? {}, words));
  if (schema.type === 'object')
    return Object.fromEntries(
      (schema.required ?? []).map((name) => [
        name,
        // The other grades of a colour ask for more beside them.
        name === 'grade' ? 'word' : leastOf(schema.properties?.[name] ?? {}, words),
      ]),
    );
  if (schema.type === 'integer' || schema.type === 'number') return leastNumber(schema);
  if (schema.format === 'date') return '2026-01-01';
  if (schema.format === 'date-time') return '2026-01-01T00:00:00.000Z';
  return words;
}

function leastNumber({ type, minimum = 0, exclusiveMinimum, maximum, exclusiveMaximum }: JsonSchema): number {
  if (exclusiveMinimum === undefined || exclusiveMinimum < minimum) return minimum;
  if (type === 'integer') return exclusiveMinimum + 1;
  const most = Math.min(maximum ?? Infinity, exclusiveMaximum ?? Infinity);
  return most === Infinity ? exclusiveMinimum + 1 : (exclusiveMinimum + most) / 2;
}
