import type { FastifyReply } from 'fastify';

/**
 * Answers with a PDF that the browser shows, under a name to save it by.
 *
 * @example
 * return sendPdf(reply, { name: 'Q-00012-rev-2.pdf', file });
 */
export const sendPdf = (reply: FastifyReply, of: { name: string; file: Buffer }): FastifyReply =>
  reply
    .type('application/pdf')
    .header('content-disposition', `inline; filename="${of.name.replaceAll(/[^\w.-]/g, '_')}"`)
    .header('cache-control', 'no-store')
    .send(of.file);
