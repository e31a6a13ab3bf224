import prettier from 'prettier';
import { functionPages } from './function-pages.ts';
import { PLOTS } from './plots/index.ts';
import { readPublicApi } from './public-api.ts';

/** Where the documentation of the calculations lives. */
export const DOCS = new URL('../../../docs/calculations/', import.meta.url);

/** Everything under docs/calculations that is not written by hand, as file name under it to content. */
export async function generatedFiles(): Promise<Map<string, string>> {
  const files = new Map<string, string>();
  const options = { parser: 'markdown', printWidth: 110, singleQuote: true } as const;
  for (const [name, text] of functionPages(readPublicApi())) {
    files.set(`functions/${name}`, await prettier.format(text, options));
  }
  for (const [name, draw] of PLOTS) files.set(`plots/${name}`, draw());
  return files;
}
