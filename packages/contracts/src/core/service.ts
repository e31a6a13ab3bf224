import { z } from 'zod';
import { defineQuery } from '../kernel/http.ts';
import { content } from '../kernel/scalars.ts';

export const Health = z
  .object({
    service: z.literal('up'),
    version: z.string(),
    database: z.enum(['up', 'busy', 'full', 'down']),
    /** What is the matter, unless the database is up. */
    reason: z.string().optional(),
  })
  .meta({ id: 'Health' });

/** For watchers that give up on whatever does not answer 200: the service with its database. */
export const getHealth = defineQuery({
  name: 'getHealth',
  tags: ['core'],
  path: '/health',
  access: 'anyone',
  summary: 'Whether the service and its database answer; 503 with the reason while the database does not',
  reply: Health,
  otherReplies: { 503: Health },
});
/** For proxies and orchestrators: whether requests are worth sending here now. */
export const getReadiness = defineQuery({
  name: 'getReadiness',
  tags: ['core'],
  path: '/health/ready',
  access: 'anyone',
  summary: 'Whether requests can be answered now; 503 while the database does not answer',
  reply: Health,
  otherReplies: { 503: Health },
});
/** For whatever restarts a process that hangs. A lost database is no reason to: the service waits for it. */
export const getLiveness = defineQuery({
  name: 'getLiveness',
  tags: ['core'],
  path: '/health/live',
  access: 'anyone',
  summary: 'Whether the process answers, whatever its database does',
  reply: z.object({ service: z.literal('up'), version: z.string() }),
});

export const getDescription = defineQuery({
  name: 'getDescription',
  tags: ['core'],
  path: '/openapi.json',
  access: 'signed-in',
  summary: 'This description of the API, as OpenAPI 3.1',
  reply: content('application/json', 'An OpenAPI document'),
});
export const getNotices = defineQuery({
  name: 'getNotices',
  tags: ['core'],
  path: '/third-party-notices.txt',
  access: 'signed-in',
  summary: 'What others made and Huelot ships, with their licences',
  reply: content('text/plain', 'Names and licences'),
  problems: ['not-found'],
});
/** The page that shows the description, and the files it loads. */
export const readDescription = {
  path: '/docs',
  access: 'signed-in',
} as const;
