import type { Canvas } from '@napi-rs/canvas';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';

export interface ReadPage {
  /** Everything written on the page, in reading order, white space folded. */
  text: string;
  /** The page as a picture. */
  png: () => Promise<Buffer>;
  /** The share of its pixels that are not white. */
  inked: () => Promise<number>;
}

/** Reads a PDF back as a reader program would: pages as text and as pictures. */
export async function readPdf(file: Uint8Array): Promise<ReadPage[]> {
  const pdf = await getDocument({ data: Uint8Array.from(file), verbosity: 0 }).promise;
  return Promise.all(
    Array.from({ length: pdf.numPages }, async (_, index) => {
      const page = await pdf.getPage(index + 1);
      const { items } = await page.getTextContent();
      const draw = async (): Promise<Canvas> => {
        const viewport = page.getViewport({ scale: 1.6 });
        // The reader's own canvas: patterns it makes are of the same kind.
        const factory = pdf.canvasFactory as { create(width: number, height: number): { canvas: Canvas } };
        const { canvas } = factory.create(Math.ceil(viewport.width), Math.ceil(viewport.height));
        await page.render({
          canvas: canvas as never,
          canvasContext: canvas.getContext('2d') as never,
          viewport,
        }).promise;
        return canvas;
      };
      return {
        text: items
          .map((item) => ('str' in item ? `${item.str} ` : ''))
          .join('')
          .replaceAll(/\s+/g, ' '),
        png: async () => Buffer.from(await (await draw()).encode('png')),
        inked: async () => {
          const canvas = await draw();
          const { data } = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height);
          let inked = 0;
          for (let i = 0; i < data.length; i += 4)
            if ((data[i] ?? 255) + (data[i + 1] ?? 255) + (data[i + 2] ?? 255) < 740) inked += 1;
          return inked / (data.length / 4);
        },
      };
    }),
  );
}
