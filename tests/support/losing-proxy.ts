import { createServer, request, type IncomingMessage } from 'node:http';
import type { AddressInfo } from 'node:net';

/** A service as it is reached over a line that fails: what is sent arrives, and chosen answers never come back. */
export interface LosingProxy {
  url: string;
  /** Answers of the service that were cut off, by their status. */
  lost: number[];
  close(): Promise<void>;
}

/**
 * Forwards everything to `target`, and cuts the line on the answers to requests that `loses` picks, after the service gave them.
 *
 * @example
 * const proxy = await losingProxy({ target: shop.url, loses: ({ method }) => method === 'POST' });
 */
export async function losingProxy({
  target,
  loses,
}: {
  target: string;
  loses: (request: IncomingMessage) => boolean;
}): Promise<LosingProxy> {
  const lost: number[] = [];
  const { hostname, port } = new URL(target);
  const server = createServer((incoming, outgoing) => {
    const { method, url: path, headers } = incoming;
    const forwarded = request({ hostname, port, method, path, headers }, (answer) => {
      if (!loses(incoming)) {
        outgoing.writeHead(answer.statusCode ?? 502, answer.headers);
        answer.pipe(outgoing);
        return;
      }
      answer.resume();
      answer.once('end', () => {
        lost.push(answer.statusCode ?? 0);
        incoming.socket.destroy();
      });
    });
    forwarded.once('error', () => incoming.socket.destroy());
    incoming.pipe(forwarded);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return {
    url: `http://localhost:${(server.address() as AddressInfo).port}`,
    lost,
    close: () =>
      new Promise((resolve) => {
        server.close(() => {
          resolve();
        });
        server.closeAllConnections();
      }),
  };
}
