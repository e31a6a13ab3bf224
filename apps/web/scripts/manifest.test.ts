import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';

const read = (file: string) => readFileSync(new URL(`../${file}`, import.meta.url));
const manifest = JSON.parse(read('static/huelot.webmanifest').toString()) as {
  start_url: string;
  display: string;
  icons: { src: string; sizes: string; type: string; purpose?: string }[];
  shortcuts: { url: string }[];
};

/** Width and height as the header of a PNG states them. */
function sizeOf(file: string): string {
  const png = read(file);
  expect([...png.subarray(1, 4)]).toEqual([...Buffer.from('PNG')]);
  return `${png.readUInt32BE(16)}x${png.readUInt32BE(20)}`;
}

it('a tablet could not put Huelot on its home screen', () => {
  expect(manifest).toMatchObject({ start_url: '/', display: 'standalone' });
  const pictures = manifest.icons.filter(({ type }) => type === 'image/png');
  expect(pictures.map(({ sizes }) => sizes)).toEqual(expect.arrayContaining(['192x192', '512x512']));
  for (const { src, sizes } of pictures) expect(sizeOf(`static${src}`), src).toBe(sizes);
  expect(manifest.icons.some(({ purpose }) => purpose === 'maskable')).toBe(true);
  expect(manifest.shortcuts.map(({ url }) => url)).toEqual(['/tankside']);
});

it('the page did not say where its manifest and its icons are', () => {
  const page = read('src/app.html').toString();
  const linked = [...page.matchAll(/href="%sveltekit\.assets%\/([^"]+)"/g)].map(([, file = '']) => file);
  expect(linked).toEqual(['icon.svg', 'apple-touch-icon.png', 'huelot.webmanifest']);
  for (const file of linked) expect(read(`static/${file}`).length, file).toBeGreaterThan(200);
  expect(sizeOf('static/apple-touch-icon.png')).toBe('180x180');
  expect(page).toMatch(/<meta name="theme-color" /);
});
