import multipart from '@fastify/multipart';
import { downloadFile, getFile, maxFileBytes, uploadFile, type StoredFile } from '@huelot/contracts';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { registerRoute } from '../../http/route.ts';
import { DomainError, fieldError } from '../../kernel/refusal.ts';
import * as files from './files.ts';
import { sweepTemporary } from './temporary.ts';

export default async function filesDomain(app: FastifyInstance): Promise<void> {
  const { db } = app;
  await app.register(multipart, { limits: { fileSize: maxFileBytes, files: 1, fields: 0, headerPairs: 20 } });

  app.addHook('onReady', async () => {
    // Another account's left-overs are not ours to remove, and no reason not to start.
    await sweepTemporary().catch((error: unknown) =>
      app.log.warn({ err: error }, 'temporary uploads were not swept'),
    );
  });
  registerRoute(app, uploadFile, async ({ actor, request }) =>
    files.keepFile(db, { actor, ...(await receive(request)) }),
  );
  registerRoute(app, getFile, ({ actor, params }) => files.getFileFor(db.execute, { actor, id: params.id }));
  registerRoute(app, downloadFile, async ({ actor, params, query, reply }) => {
    const file = await files.getFileFor(db.execute, { actor, id: params.id });
    await files.checkStored(db.execute, file.id);
    announce(reply, file, query.show === 'inline');
    return files.openFile(db.execute, file.id);
  });
}

/** The one file of a multipart request. */
async function receive(request: FastifyRequest): Promise<files.Upload> {
  if (!request.isMultipart()) {
    throw new DomainError(
      'unsupported-media-type',
      'Send the file as multipart/form-data, in one field named file.',
    );
  }
  // More than the file and the words around it need: refused before it is read.
  if (Number(request.headers['content-length'] ?? 0) > maxFileBytes + 64 * 1024) throw files.tooLarge();
  const part = await request.file().catch((error: unknown) => {
    throw new DomainError(
      'malformed-request',
      `The multipart body cannot be read: ${(error as Error).message}.`,
    );
  });
  if (part === undefined) throw fieldError('file', 'is missing: send it in a field of that name');
  if (part.fieldname !== 'file')
    throw fieldError('file', `is missing: the file came in a field named ${part.fieldname}`);
  return { name: part.filename, content: part.file, isCut: () => part.file.truncated };
}

/** What a browser may show by itself; everything else is saved. */
const shown = /^(?:image\/(?:png|jpeg|webp)|application\/pdf)$/;

function announce(reply: FastifyReply, file: StoredFile, inline: boolean): void {
  const ascii = file.name.replace(/[^\x20-\x7e]|[\\%]/g, '_');
  const disposition = inline && shown.test(file.mediaType) ? 'inline' : 'attachment';
  reply
    .type(file.mediaType)
    .header('content-length', file.sizeBytes)
    .header(
      'content-disposition',
      `${disposition}; filename="${ascii}"; filename*=UTF-8''${encodeURIComponent(file.name).replace(/['()*]/g, hex)}`,
    )
    .header('x-content-type-options', 'nosniff');
  // A browser's own PDF reader does not work in a sandbox; everything else gets one.
  if (file.mediaType !== 'application/pdf') {
    reply.header('content-security-policy', "default-src 'none'; sandbox");
  }
}
const hex = (letter: string) => `%${letter.charCodeAt(0).toString(16).toUpperCase()}`;
