import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { Line, Percent } from './scalars.ts';

const said = (schema: z.ZodType, value: unknown) =>
  schema.safeParse(value).error?.issues.map(({ message }) => message);

describe('a refusal that spoke like a library', () => {
  it.each<[string, z.ZodType, unknown, string]>([
    ['a tax rate of 200 %', Percent, 200, 'must be at most 100'],
    ['a negative count', z.int().min(0), -1, 'must be at least 0'],
    ['nothing above zero', z.number().positive(), 0, 'must be more than 0'],
    ['too many decimals', Percent, 1.00001, 'may have at most 3 decimals'],
    ['a code left empty', z.string().min(1), '', 'must be filled in'],
    ['a name left empty', Line(), '  ', 'must be filled in'],
    ['a missing number', z.number(), null, 'must be filled in'],
    ['a word for a number', z.number(), 'ten', 'must be a number'],
    ['half a piece', z.int(), 0.5, 'must be a whole number'],
    ['a long text', z.string().max(3), 'long', 'must have at most 3 characters'],
    ['an empty list', z.array(z.string()).min(1), [], 'must have at least one entry'],
    ['a long list', z.array(z.string()).max(1), ['a', 'b'], 'must have at most 1 entry'],
    ['a unit nobody knows', z.enum(['mm', 'in']), 'yd', 'must be one of mm, in'],
    ['a day that is none', z.iso.date(), '31 March', 'must be a date, such as 2026-03-31'],
    ['half an e-mail address', z.email(), 'mira@', 'must be an e-mail address, such as name@example.org'],
    ['a field nobody knows', z.strictObject({}), { colour: 1 }, 'has unknown fields: colour'],
    ['neither form', z.union([z.number(), z.boolean()]), 'x', 'has none of the allowed forms'],
  ])('%s', (...[, schema, value, message]) => expect(said(schema, value)).toEqual([message]));

  it('leaves the words of a schema of its own', () => {
    expect(said(z.string().regex(/^\d+$/, 'must be an amount like 372.68'), 'x')).toEqual([
      'must be an amount like 372.68',
    ]);
  });
});
