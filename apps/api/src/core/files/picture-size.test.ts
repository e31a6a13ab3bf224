import { describe, expect, it } from 'vitest';
import { sizeOfPicture } from './picture-size.ts';

const png = (width: number, height: number) => {
  const head = Buffer.alloc(24);
  head.write('\x89PNG\r\n\x1a\n', 0, 'latin1');
  head.write('IHDR', 12, 'latin1');
  head.writeUInt32BE(width, 16);
  head.writeUInt32BE(height, 20);
  return head;
};
const segment = (marker: number, body: number[]) => [0xff, marker, 0, body.length + 2, ...body];
const frame = (marker: number) => segment(marker, [8, 0x01, 0xe0, 0x02, 0x80, 3]);

describe('the size of a picture', () => {
  it('is in the header of a PNG', () => {
    expect(sizeOfPicture(png(640, 480))).toEqual({ width: 640, height: 480 });
  });
  it('is in the frame of a JPEG, baseline or progressive, behind what stands before it', () => {
    for (const marker of [0xc0, 0xc2]) {
      const jpeg = Buffer.from([
        0xff,
        0xd8,
        ...segment(0xe0, [1, 2, 3]),
        ...segment(0xc4, [9]),
        ...frame(marker),
      ]);
      expect(sizeOfPicture(jpeg)).toEqual({ width: 640, height: 480 });
    }
  });
  it('is not guessed of a picture that ends early, has no size, or is another thing', () => {
    for (const head of [
      ...[png(0, 480), Buffer.alloc(0), Buffer.from('RIFF0000WEBP'), Buffer.from([0xff, 0xd8, 0xff, 0xe0])],
      Buffer.from([0xff, 0xd8, ...segment(0xe0, [])]),
    ])
      expect(sizeOfPicture(head)).toBeNull();
  });
});
