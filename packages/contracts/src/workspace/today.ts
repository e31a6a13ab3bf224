import { z } from 'zod';
import { defineQuery } from '../kernel/http.ts';
import { Count, Day } from '../kernel/scalars.ts';
import { NamedColour } from './named-colour.ts';
import { PageRef } from './pages.ts';

const Waiting = z.object({
  page: PageRef,
  title: z.string(),
  detail: z.string(),
  when: z.string().nullable(),
  urgent: z.boolean(),
  /** The colour that a lot asks for, where it was agreed in figures. */
  colour: NamedColour.nullable(),
});
/** What waits for me, by role; a heading is there only for those who can act on it. */
export const getToday = defineQuery({
  name: 'getToday',
  tags: ['workspace'],
  path: '/today',
  access: 'signed-in',
  summary: 'What waits for whoever is signed in',
  reply: z.object({
    day: Day,
    sections: z.array(
      z.object({
        key: z.string(),
        title: z.string(),
        empty: z.string(),
        total: Count,
        items: z.array(Waiting),
      }),
    ),
  }),
});
