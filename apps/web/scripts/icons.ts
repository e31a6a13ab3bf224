import { readFileSync, writeFileSync } from 'node:fs';
import { createCanvas, loadImage } from '@napi-rs/canvas';

// Draws the mark at the sizes that home screens want: npx tsx apps/web/scripts/icons.ts
const folder = new URL('../static/', import.meta.url);
const svg = readFileSync(new URL('icon.svg', folder), 'utf8');
/** Without round corners: the system cuts its own. */
const ground = '#14181a';

/** `filled` leaves a margin that any mask may cut away. */
const pictures = [
  { name: 'icon-192.png', sizePx: 192, filled: false },
  { name: 'icon-512.png', sizePx: 512, filled: false },
  { name: 'icon-maskable-512.png', sizePx: 512, filled: true },
  { name: 'apple-touch-icon.png', sizePx: 180, filled: true },
];

for (const { name, sizePx, filled } of pictures) {
  const canvas = createCanvas(sizePx, sizePx);
  const context = canvas.getContext('2d');
  if (filled) {
    context.fillStyle = ground;
    context.fillRect(0, 0, sizePx, sizePx);
  }
  const drawnPx = filled ? sizePx * 0.8 : sizePx;
  const mark = await loadImage(
    Buffer.from(svg.replace('<svg ', `<svg width="${drawnPx}" height="${drawnPx}" `)),
  );
  const edge = (sizePx - drawnPx) / 2;
  context.drawImage(mark, edge, edge, drawnPx, drawnPx);
  writeFileSync(new URL(name, folder), await canvas.encode('png'));
}
