import { mkdir, rm, writeFile } from 'node:fs/promises';
import { DOCS, generatedFiles } from './generated-files.ts';

// Run with `npx tsx packages/calc/docs/generate.ts` after changing a doc comment or a model.
const files = await generatedFiles();
for (const folder of ['functions/', 'plots/']) {
  await rm(new URL(folder, DOCS), { recursive: true, force: true });
  await mkdir(new URL(folder, DOCS), { recursive: true });
}
for (const [name, content] of files) await writeFile(new URL(name, DOCS), content);
console.log(`${files.size} files written under docs/calculations`);
