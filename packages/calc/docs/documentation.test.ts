import { existsSync, readdirSync, readFileSync } from 'node:fs';
import katex from 'katex';
import { describe, expect, it } from 'vitest';
import * as calc from '../src/index.ts';
import { DOCS, generatedFiles } from './generated-files.ts';

const read = (name: string): string => readFileSync(new URL(name, DOCS), 'utf8');
const pages = readdirSync(DOCS)
  .filter((name) => name.endsWith('.md'))
  .map((name) => ({ name, text: read(name) }));

/** Anchors as forges make them from headings. */
const anchors = (markdown: string): string[] =>
  [...markdown.matchAll(/^#+ (.*)$/gm)].map(([, heading = '']) =>
    heading
      .toLowerCase()
      .replace(/[^\p{L}\p{N} _-]/gu, '')
      .replaceAll(' ', '-'),
  );

describe('generated documentation', () => {
  it(
    'is what the doc comments and models give now: run `npx tsx packages/calc/docs/generate.ts`',
    { timeout: 240_000 },
    async () => {
      const made = await generatedFiles();
      const committed = ['functions', 'plots'].flatMap((folder) =>
        readdirSync(new URL(`${folder}/`, DOCS)).map((name) => `${folder}/${name}`),
      );
      expect(committed.sort()).toEqual([...made.keys()].sort());
      for (const [name, content] of made) expect(read(name) === content, name).toBe(true);
    },
  );
});

describe.each(pages)('$name', ({ name, text }) => {
  const blocks = [...text.matchAll(/```math\n([\s\S]*?)```/g)].map(([, formula = '']) => formula);
  const inline = [...text.replace(/```[\s\S]*?```/g, '').matchAll(/\$([^$\n]+)\$/g)].map(
    ([, formula = '']) => formula,
  );

  it('has formulas that typeset', () => {
    for (const formula of [...blocks, ...inline]) {
      const typeset = () =>
        katex.renderToString(formula, { throwOnError: true, strict: 'error', displayMode: true });
      expect(typeset, formula).not.toThrow();
    }
    // Every fence and every dollar is part of a formula found above.
    expect(text.split('```math')).toHaveLength(blocks.length + 1);
    const left = text.replace(/```[\s\S]*?```/g, '').replace(/\$([^$\n]+)\$/g, '');
    expect(left).not.toContain('$');
  });

  it('links to what is there', () => {
    for (const [, target = ''] of text.matchAll(/\]\(([^)]+)\)/g)) {
      const [path = '', anchor] = target.split('#');
      expect(existsSync(new URL(path || name, DOCS)), target).toBe(true);
      if (anchor) expect(anchors(read(path || name)), target).toContain(anchor);
    }
  });

  it('names only functions that exist', () => {
    for (const [, called = ''] of text.matchAll(/`(\w+)\(\)`/g)) expect(calc).toHaveProperty(called);
  });
});

describe('plots', () => {
  const shown = pages.map(({ text }) => text).join('\n');

  it.each(readdirSync(new URL('plots/', DOCS)))('%s is shown on a page', (name) => {
    expect(shown).toContain(`](plots/${name})`);
  });
});
