import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, it } from 'vitest';
import { parse } from 'yaml';

const read = (file: string) => readFileSync(path.resolve(import.meta.dirname, '../..', file), 'utf8');
const dockerfile = read('deploy/Dockerfile');
const compose = parse(read('deploy/compose.yaml')) as {
  services: { huelot: { environment: Record<string, string>; build: { args: Record<string, string> } } };
};
const settings = [
  ...new Set(read('apps/api/src/process/config.ts').match(/\bHUELOT_[A-Z_]*[A-Z]\b|\bDATABASE_URL\b/g) ?? []),
];
const instructions = (name: string) =>
  [...dockerfile.matchAll(new RegExp(`^${name} +(.+)$`, 'gm'))].map(([, words = '']) => words);

it('a setting could not be made in deploy/.env, because compose.yaml did not pass it on', () => {
  expect(settings.length).toBeGreaterThan(8);
  const inImage = instructions('ENV').join(' ');
  const { environment } = compose.services.huelot;
  const unreachable = settings.filter((name) => !(name in environment) && !inImage.includes(`${name}=`));
  expect(unreachable).toEqual([]);
});

it('a setting stood in no document', () => {
  const operations = read('docs/operations.md');
  expect(settings.filter((name) => !operations.includes(`\`${name}\``))).toEqual([]);
});

it('the base image could not be pinned, or the service ran as root', () => {
  expect(instructions('FROM').map((words) => words.split(' ')[0])).toEqual([
    '${NODE_IMAGE}',
    '${NODE_IMAGE}',
  ]);
  expect(instructions('ARG')).toEqual(['NODE_IMAGE=node:24-bookworm-slim']);
  expect(compose.services.huelot.build.args['NODE_IMAGE']).toBe('${NODE_IMAGE:-node:24-bookworm-slim}');
  expect(instructions('USER')).toEqual(['4070:4070']);
});

it('the backup ran with less of a sandbox than the service', () => {
  const rules = (unit: string) =>
    read(`deploy/${unit}`)
      .split('\n')
      .filter((line) => /^(NoNew|Protect|Private|Restrict|Lock|SystemCall|Capability|UMask)/.test(line))
      .sort();
  expect(rules('huelot.service').length).toBeGreaterThan(15);
  expect(rules('huelot-backup.service')).toEqual(rules('huelot.service'));
});
