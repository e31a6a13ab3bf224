import { crc32, deflateSync } from 'node:zlib';

interface Size {
  width: number;
  height: number;
}
/** 0 to 255 each. */
type Rgb = readonly [red: number, green: number, blue: number];

/**
 * A grey PNG (ISO/IEC 15948, eight bits) of what is drawn pixel by pixel, 0 black to 255 white.
 *
 * @example
 * greyPng({ width: 640, height: 480, greyAt: (x, y) => (y < 240 ? 40 : 200) })
 */
export const greyPng = ({ greyAt, ...size }: Size & { greyAt: (x: number, y: number) => number }): Buffer =>
  png({ ...size, channels: 1, pixelAt: (x, y) => [greyAt(x, y)] });

/**
 * The same in colour.
 *
 * @example
 * colourPng({ width: 96, height: 96, colourAt: () => [154, 74, 28] })
 */
export const colourPng = ({
  colourAt,
  ...size
}: Size & { colourAt: (x: number, y: number) => Rgb }): Buffer =>
  png({ ...size, channels: 3, pixelAt: colourAt });

function png({
  width,
  height,
  channels,
  pixelAt,
}: Size & { channels: 1 | 3; pixelAt: (x: number, y: number) => readonly number[] }): Buffer {
  // Each row begins with the number of its filter: none.
  const rowLength = 1 + width * channels;
  const rows = Buffer.alloc(height * rowLength);
  for (let y = 0; y < height; y += 1)
    for (let x = 0; x < width; x += 1)
      for (const [channel, value] of pixelAt(x, y).entries())
        rows[y * rowLength + 1 + x * channels + channel] = Math.min(255, Math.max(0, Math.round(value)));
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  header[8] = 8;
  header[9] = channels === 1 ? 0 : 2;
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
