import { z } from 'zod';
import { EmptyReply, EmptyBody, defineQuery, defineCommand } from '../kernel/http.ts';
import { Id, Instant, Line, PathId } from '../kernel/scalars.ts';

/** More than the longest recipe takes. */
const MOST_CHARACTERS = 200_000;

export const KeptForm = z.object({
  id: Id,
  /** The address of the form in the web app. */
  path: z.string(),
  title: z.string(),
  /** The version of the record that the form began from; 0 for a new one. */
  version: z.int(),
  keptAt: Instant,
});
export type KeptForm = z.output<typeof KeptForm>;

export const listKeptForms = defineQuery({
  name: 'listKeptForms',
  tags: ['core'],
  path: '/me/kept-forms',
  access: 'signed-in',
  summary: 'Forms that I kept half-written, the latest first',
  reply: z.object({ items: z.array(KeptForm) }),
});
export const getKeptForm = defineQuery({
  name: 'getKeptForm',
  tags: ['core'],
  path: '/me/kept-forms/:id',
  access: 'signed-in',
  summary: 'A half-written form of mine with what was typed',
  params: { id: PathId },
  reply: KeptForm.extend({ values: z.record(z.string(), z.unknown()) }),
});
export const keepForm = defineCommand({
  name: 'keepForm',
  tags: ['core'],
  method: 'PUT',
  path: '/me/kept-forms',
  access: 'signed-in',
  summary: 'Keep a form half-written, in place of what was kept of it before; nothing is checked yet',
  body: z.strictObject({
    path: z.string().regex(/^\/[\w\-/?=&.%[\]]{0,300}$/, 'must be the address of a form'),
    title: Line(200),
    version: z.int().min(0).max(2_147_483_647),
    values: z
      .record(z.string(), z.unknown())
      .refine(
        (values) => JSON.stringify(values).length <= MOST_CHARACTERS,
        'is more than can be kept half-written',
      )
      .refine((values) => !JSON.stringify(values).includes('\\u0000'), 'must not contain the NUL character'),
  }),
  reply: KeptForm,
});
export const discardKeptForm = defineCommand({
  name: 'discardKeptForm',
  tags: ['core'],
  method: 'DELETE',
  path: '/me/kept-forms/:id',
  access: 'signed-in',
  summary: 'Discard a half-written form of mine',
  params: { id: PathId },
  body: EmptyBody,
  reply: EmptyReply,
});
