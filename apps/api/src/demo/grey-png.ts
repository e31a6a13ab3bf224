import { crc32, deflateSync } from 'node:zlib';

/**
 * A grey PNG (ISO/IEC 15948, eight bits) of what is drawn pixel by pixel, 0 black to 255 white.
 *
 * @example
 * greyPng({ width: 640, height: 480, greyAt: (x, y) => (y < 240 ? 40 : 200) })
 */
export function greyPng({
  width,
  height,
  greyAt,
}: {
  width: number;
  height: number;
  greyAt: (x: number, y: number) => number;
}): Buffer {
  // Each row begins with the number of its filter: none.
  const rows = Buffer.alloc(height * (width + 1));
  for (let y = 0; y < height; y += 1)
    for (let x = 0; x < width; x += 1)
      rows[y * (width + 1) + 1 + x] = Math.min(255, Math.max(0, Math.round(greyAt(x, y))));
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  header[8] = 8;
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk('IHDR', header),
    chunk('IDAT', deflateSync(rows)),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

function chunk(name: string, content: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(name, 'latin1'), content]);
  const around = Buffer.alloc(8);
  around.writeUInt32BE(content.length, 0);
  around.writeUInt32BE(crc32(body), 4);
  return Buffer.concat([around.subarray(0, 4), body, around.subarray(4)]);
}
