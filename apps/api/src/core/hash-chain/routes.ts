import * as contract from '@huelot/contracts';

import type { FastifyInstance } from 'fastify';
import type { z } from 'zod';
import { sealPdf } from '../../documents/seal-pdf.ts';
import { decodeCursor, toPage } from '../../kernel/cursor.ts';
import { pdfFile } from '../../http/pdf.ts';
import { registerRoute } from '../../http/route.ts';
import { orNotFound, fieldError, DomainError } from '../../kernel/refusal.ts';
import { beginCheck } from './check.ts';
import { readChainState, readNewestCheck, type CheckRow } from './check-queries.ts';
import type { ChainKeys } from './keys.ts';
import { readSeal, readSeals, readShopFacts, type SealRow } from './seal-queries.ts';
import { sealNow } from './seal.ts';
import { parseSeal, sealText, type Seal } from './seal-text.ts';
import type { Verdict } from './verify.ts';

export default function chain(app: FastifyInstance): void {
  const { db } = app;
  let isClosing = false;
  let checking: Promise<unknown> = Promise.resolve();
  app.addHook('onClose', async () => {
    isClosing = true;
    await checking;
  });

  registerRoute(app, contract.getChain, async () => {
    const { keyId, newestAt, lastWholeAt, ...state } = await readChainState(db.execute);
    const check = await readNewestCheck<Verdict>(db.execute);
    return {
      ...state,
      keyAtHand: app.chainKeys !== null && (keyId === null || app.chainKeys.byId.has(keyId)),
      newestAt: newestAt?.toISOString() ?? null,
      lastWholeAt: lastWholeAt?.toISOString() ?? null,
      check: check === null ? null : checkReply(check),
    };
  });

  registerRoute(app, contract.startChainCheck, async ({ actor, body }) => {
    const { check, verdict } = await beginCheck(db, {
      keys: keysOf(app),
      startedBy: actor.displayName,
      seal: readTypedSeal(body.seal),
      isOver: () => isClosing,
    });
    checking = verdict.catch((error: unknown) => app.log.error({ err: error }, 'the chain was not checked'));
    return checkReply(check);
  });

  registerRoute(app, contract.listChainSeals, async ({ query }) => {
    const limit = query.limit ?? 50;
    const before = decodeCursor(query.after, ['number'])?.[0];
    const rows = await readSeals(db.execute, { limit: limit + 1, before: isId(before) ? before : null });
    const { items, next } = toPage({ rows, limit, cursorOf: ({ id }) => [id] });
    return { items: items.map(sealReply), next };
  });

  registerRoute(app, contract.createChainSeal, async ({ actor }) => {
    const seal = await sealNow(db, { keys: keysOf(app), sealedBy: actor.displayName });
    if (seal === null) throw new DomainError('conflict', 'Nothing is in the chain yet.');
    return sealReply(seal);
  });

  registerRoute(app, contract.printChainSeal, async ({ params: { id }, reply }) => {
    const seal = sealReply(orNotFound(await readSeal(db.execute, id), `seal ${id}`));
    const shop = await readShopFacts(db.execute);
    const { name: shopName, timeZone } = shop;
    const file = await sealPdf({ seal, shopName, timeZone, publicUrl: app.publicUrl });
    return pdfFile(reply, { name: `seal-${seal.position}.pdf`, file });
  });
}

const isId = (value: unknown): value is number =>
  typeof value === 'number' && Number.isInteger(value) && value > 0 && value < 2 ** 31;

function keysOf({ chainKeys }: FastifyInstance): ChainKeys {
  if (chainKeys === null)
    throw new DomainError(
      'conflict',
      'The key of the chain is not on this server: whoever runs it must put the key file back. Nothing can be compared without it.',
    );
  return chainKeys;
}

function readTypedSeal(text: string): Seal | null {
  if (text === '') return null;
  const seal = parseSeal(text);
  if (seal === null)
    throw fieldError(
      'seal',
      'must hold one seal: a number, a dash and 64 digits from 0 to 9 and a to f, as it was printed',
    );
  return seal;
}

const sealReply = (seal: SealRow): z.input<typeof contract.ChainSeal> => ({
  ...seal,
  text: sealText(seal),
  sealedAt: seal.sealedAt.toISOString(),
});

function checkReply({ isAlive, ...check }: CheckRow<Verdict>): z.input<typeof contract.ChainCheck> {
  return {
    ...check,
    startedAt: check.startedAt.toISOString(),
    finishedAt: check.finishedAt?.toISOString() ?? null,
    state: check.finishedAt !== null ? 'done' : isAlive ? 'running' : 'broken-off',
  };
}
