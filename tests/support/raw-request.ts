import http from 'node:http';
import type { AddressInfo } from 'node:net';
import type { FastifyInstance } from 'fastify';

/** A request sent as it is written, which `app.inject` and `fetch` would both tidy up first. */
export interface RawRequest {
  method: string;
  /** What stands between the method and HTTP/1.1. */
  target: string;
  headers?: Record<string, string>;
  body?: string;
}

/**
 * Listens on a free port and sends requests there over real sockets.
 *
 * @example
 * const send = await rawRequests(app);
 * await send({ method: 'GET', target: 'http://localhost/api/parts' });
 */
export async function rawRequests(
  app: FastifyInstance,
): Promise<(request: RawRequest) => Promise<{ status: number; body: string }>> {
  await app.listen({ host: '127.0.0.1', port: 0 });
  const { port } = app.server.address() as AddressInfo;
  const agent = new http.Agent({ keepAlive: true });
  return ({ method, target, headers = {}, body = '' }) =>
    new Promise((resolve, reject) => {
      const length = body === '' ? {} : { 'content-length': String(Buffer.byteLength(body)) };
      const request = http.request(
        { agent, port, host: '127.0.0.1', method, path: target, headers: { ...headers, ...length } },
        (reply) => {
          const parts: Buffer[] = [];
          reply.on('data', (part: Buffer) => parts.push(part));
          reply.on('error', reject);
          reply.on('end', () =>
            resolve({ status: reply.statusCode ?? 0, body: Buffer.concat(parts).toString() }),
          );
        },
      );
      request.on('error', reject);
      request.end(body);
    });
}
