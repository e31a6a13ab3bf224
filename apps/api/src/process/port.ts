import { createServer } from 'node:net';
import type { Config } from './config.ts';

type Address = Pick<Config, 'host' | 'port'>;

/** Finds out at once whether the port is free, before anything is started in vain. */
export async function refuseTakenPort({ host, port }: Address): Promise<void> {
  const probe = createServer();
  try {
    await new Promise<void>((resolve, reject) => {
      probe.once('error', reject);
      probe.listen({ host, port }, resolve);
    });
  } catch (error) {
    throw portFault(error as NodeJS.ErrnoException, { host, port });
  }
  await new Promise((resolve) => probe.close(resolve));
}

/** Why it cannot listen, in words that say what to do. */
export function portFault(error: NodeJS.ErrnoException, { host, port }: Address): Error {
  const words: Record<string, string> = {
    EADDRINUSE: `port ${port} is taken by another program, perhaps by another Huelot. Stop that one, or choose another port with HUELOT_PORT.`,
    EACCES: `this account may not listen on port ${port}. Choose a port above 1023 with HUELOT_PORT.`,
    EADDRNOTAVAIL: `${host} is not an address of this machine. Set HUELOT_HOST to one that is.`,
    ENOTFOUND: `the host name ${host} is not known here. Set HUELOT_HOST to an address of this machine.`,
  };
  return new Error(words[error.code ?? ''] ?? error.message, { cause: error });
}
