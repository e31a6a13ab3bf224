import { createHash } from 'node:crypto';
import { createWriteStream } from 'node:fs';
import path from 'node:path';
import type { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { DomainError } from '../../kernel/refusal.ts';
import { openTemporary } from './temporary.ts';

/** What was seen of a file while it came in. */
export interface Seen {
  /** Its first bytes, at most 4 KiB. */
  head: Buffer;
  /** Its last bytes, at most 4 KiB. */
  tail: Buffer;
  sizeBytes: number;
  /** Every byte is UTF-8 text without NUL. */
  text: boolean;
}

export interface Spooled extends Seen {
  path: string;
  sha256: Buffer;
}

const END_BYTES = 4096;

/**
 * Takes a stream to a file on disk and hands it to `use`; the file is gone afterwards. A slow sender then holds
 * neither memory nor a connection to the database.
 */
export async function spooled<T>(content: Readable, use: (file: Spooled) => Promise<T>): Promise<T> {
  const temporary = await openTemporary();
  try {
    const file = path.join(temporary.folder, 'content');
    const seen = new Watch();
    await pipeline(content, seen.pass.bind(seen), createWriteStream(file, { mode: 0o600 })).catch(notWhole);
    return await use({ path: file, ...seen.result() });
  } finally {
    await temporary.remove();
  }
}

/** A disk that is full is our fault; whatever else ends a stream early is the sender's or the network's. */
function notWhole(error: unknown): never {
  if (error instanceof Error && 'syscall' in error) throw error;
  throw new DomainError('malformed-request', 'The file did not arrive whole. Send it again.');
}

/** Looks at a stream as it passes. */
class Watch {
  #hash = createHash('sha256');
  #decoder = new TextDecoder('utf-8', { fatal: true });
  #head: Buffer[] = [];
  #headBytes = 0;
  #tail: Buffer = Buffer.alloc(0);
  #size = 0;
  #text = true;

  async *pass(chunks: AsyncIterable<Buffer>): AsyncGenerator<Buffer> {
    for await (const chunk of chunks) {
      this.#see(chunk);
      yield chunk;
    }
  }

  #see(chunk: Buffer): void {
    this.#hash.update(chunk);
    this.#size += chunk.length;
    if (this.#headBytes < END_BYTES) {
      this.#head.push(chunk.subarray(0, END_BYTES - this.#headBytes));
      this.#headBytes += chunk.length;
    }
    this.#tail = Buffer.concat([this.#tail, chunk.subarray(-END_BYTES)]).subarray(-END_BYTES);
    this.#text &&= !chunk.includes(0) && this.#decodes(chunk, { stream: true });
  }

  #decodes(chunk: Buffer, options: { stream: boolean }): boolean {
    try {
      this.#decoder.decode(chunk, options);
      return true;
    } catch {
      return false;
    }
  }

  result(): Seen & { sha256: Buffer } {
    return {
      head: Buffer.concat(this.#head),
      tail: this.#tail,
      sizeBytes: this.#size,
      text: this.#text && this.#decodes(Buffer.alloc(0), { stream: false }),
      sha256: this.#hash.digest(),
    };
  }
}
