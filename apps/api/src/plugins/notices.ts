import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import path from 'node:path';
import { getNotices } from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import fp from 'fastify-plugin';
import { registerRoute } from '../http/route.ts';
import { root } from '../process/root.ts';
import { DomainError } from '../kernel/refusal.ts';

const file = path.join(root, 'THIRD_PARTY_NOTICES.txt');

/** The licences of what is shipped, for whoever uses it. */
export default fp(
  (app: FastifyInstance, _options, done) => {
    registerRoute(app, getNotices, async ({ reply }) => {
      const found = await stat(file).catch(() => null);
      if (found === null)
        throw new DomainError('not-found', 'This installation has no THIRD_PARTY_NOTICES.txt in its folder.');
      reply.type('text/plain; charset=utf-8');
      return createReadStream(file);
    });
    done();
  },
  { name: 'notices' },
);
