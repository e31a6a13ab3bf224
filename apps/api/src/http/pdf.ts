import type { FastifyReply } from 'fastify';

/**
 * The bytes of a PDF that the browser shows, with the headers that say so and a name to save it by.
 *
 * @example
 * return pdfFile(reply, { name: 'Q-00012-rev-2.pdf', file });
 */
export function pdfFile(reply: FastifyReply, { name, file }: { name: string; file: Buffer }): Buffer {
  reply
    .type('application/pdf')
    .header('content-disposition', `inline; filename="${name.replaceAll(/[^\w.-]/g, '_')}"`);
  return file;
}
