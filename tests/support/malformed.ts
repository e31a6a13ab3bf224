import fc from 'fast-check';

interface JsonSchema {
  type?: string | string[];
  properties?: Record<string, JsonSchema>;
  items?: JsonSchema;
  anyOf?: JsonSchema[];
  oneOf?: JsonSchema[];
  enum?: unknown[];
  const?: unknown;
  minimum?: number;
  maximum?: number;
}

/** Values that break what was not thought of: numbers at the edges, NUL, lone surrogates, formulas, deep and huge things. */
const junk = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.constantFrom(
      null,
      '',
      ' ',
      0,
      -1,
      -0.5,
      1e308,
      -1e308,
      2 ** 31,
      2 ** 53,
      true,
      [],
      {},
      '\0',
      '\uD800',
      "'; drop table lot; --",
      '=1+1',
      'x'.repeat(5000),
      '2026-02-30',
      '1e999',
      'NaN',
    ),
  },
  { weight: 2, arbitrary: fc.jsonValue({ maxDepth: 2 }) },
  { weight: 1, arbitrary: fc.double({ noNaN: true, noDefaultInfinity: true }) },
);

/** A value close to what a schema allows, spoilt here and there. */
export function nearly(schema: JsonSchema, depth = 0): fc.Arbitrary<unknown> {
  return fc.oneof({ weight: 7, arbitrary: likely(schema, depth) }, { weight: 1, arbitrary: junk });
}

function likely(schema: JsonSchema, depth: number): fc.Arbitrary<unknown> {
  const choices = schema.anyOf ?? schema.oneOf;
  if (choices !== undefined && choices.length > 0)
    return fc.oneof(...choices.map((choice) => nearly(choice, depth + 1)));
  if (schema.const !== undefined) return fc.constant(schema.const);
  if (schema.enum !== undefined) return fc.constantFrom(...schema.enum);
  const type = Array.isArray(schema.type) ? schema.type[0] : schema.type;
  if (type === 'object' && schema.properties !== undefined) {
    const fields = Object.fromEntries(
      Object.entries(schema.properties).map(([name, field]) => [name, nearly(field, depth + 1)]),
    );
    return fc.oneof(
      { weight: 5, arbitrary: fc.record(fields) },
      { weight: 1, arbitrary: fc.record(fields, { requiredKeys: [] }) },
    );
  }
  if (type === 'array')
    return fc.array(nearly(schema.items ?? {}, depth + 1), { maxLength: depth > 2 ? 1 : 3 });
  if (type === 'boolean') return fc.boolean();
  if (type === 'integer' || type === 'number') {
    const [min, max] = [Math.max(schema.minimum ?? -10, -1e6), Math.min(schema.maximum ?? 1000, 1000)];
    return fc.oneof(
      fc.integer({ min: Math.min(Math.ceil(min), 1), max: Math.max(Math.floor(max), 1) }),
      fc.constantFrom(1, 2, 48),
    );
  }
  return fc.oneof(
    fc.string({ maxLength: 12 }),
    fc.constantFrom('text', '372.68', '2099-01-01', new Date(0).toISOString(), 'a@example.com', 'EUR'),
  );
}
