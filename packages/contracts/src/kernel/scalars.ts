import { z } from 'zod';
import { issueWords } from './issue-words.ts';

z.config({ customError: issueWords });

/** A record's key. */
export const Id = z.int().positive().max(2_147_483_647);
/** A key in a path or query string, where everything is text. */
export const PathId = z.coerce.number().int().positive().max(2_147_483_647);

/** An instant in UTC, ISO 8601. */
export const Instant = z.iso.datetime({ offset: true }).meta({ description: 'An instant in UTC' });
/** A calendar day in the shop's time zone, `2026-03-31`. */
export const Day = z.iso.date();

/** The version of an editable record; an edit names the one it started from. */
export const Version = z.int().positive();

/** Text that may not be empty, trimmed. */
export const Line = (max = 200) =>
  z.string().trim().min(1, 'must be filled in').max(max).refine(isStorable, unstorable);
/** Text that may be empty and may have several lines. */
export const Text = (max = 4000) => z.string().max(max).refine(isStorable, unstorable);

export const unstorable = 'must not contain the NUL character, or half of a character';
/** What the database keeps as text: NUL would end it, and half of a pair of code units is no character. */
export function isStorable(value: string): boolean {
  return !value.includes('\0') && !/\p{Surrogate}/u.test(value);
}

/** A finite number of at least 0 and at most `max`. */
export const Quantity = (max = 1e12) => z.number().min(0).max(max);
/** A finite number above 0 and at most `max`. */
export const Positive = (max = 1e12) => z.number().positive().max(max);
/** Per cent, to the thousandth. */
export const Percent = z.number().min(0).max(100).multipleOf(0.001);
/** A whole number of pieces. */
export const Count = z.int().min(0).max(1_000_000);

/** An exact amount of money as decimal text, `372.68`: never a float on the wire. */
export const Money = z
  .string()
  .regex(/^-?\d{1,12}(\.\d{1,6})?$/, 'must be an amount like 372.68')
  .meta({ description: 'An exact decimal amount in the currency of its document' });

/** A price somebody types: not negative; {@link exactAmount} says whether its currency counts that many decimals. */
export const Price = z.string().regex(/^\d{1,11}(\.\d{1,3})?$/, 'must be an amount like 372.68');

export const Lab = z.object({
  L: z.number().min(0).max(100),
  a: z.number().min(-200).max(200),
  b: z.number().min(-200).max(200),
});
export type Lab = z.output<typeof Lab>;

export const SystemOfUnits = z.enum(['metric', 'us']);

/** The part of a list after `after`; `next` is absent on the last page. */
export const listQuery = {
  search: z.string().trim().max(200).refine(isStorable, unstorable).optional(),
  after: z.string().max(500).optional(),
  limit: z.coerce.number().int().min(1).max(200).optional(),
};
/** A page of a list, with the cursor of the next. */
export const page = <T extends z.ZodType>(item: T) =>
  z.object({ items: z.array(item), next: z.string().nullable() });
/** Whether a list shows what is in use, what was archived, or both. */
export const Archived = z.enum(['no', 'yes', 'all']);

/** A reply that is no JSON: its media type, and what is in it. */
export const content = (contentMediaType: string, description: string) =>
  z.any().meta({ description, contentMediaType });
/** A file of comma-separated values (RFC 4180), sent as text and not as JSON. */
export const Csv = content('text/csv', 'Comma-separated values, RFC 4180');
export const Pdf = content('application/pdf', 'A PDF');
