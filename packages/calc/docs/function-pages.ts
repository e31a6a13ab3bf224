import type { PublicName } from './public-api.ts';

const TITLES: Record<string, string> = {
  units: 'Units',
  geometry: 'Geometry',
  electro: 'Charge, current and voltage',
  bath: 'Baths: density, conductivity, titration, additions, rinsing',
  lab: 'Laboratory: from readings to results, and what a bath may be used for',
  plausibility: 'Plausibility: what an entry is judged against',
  heat: 'Heat',
  corrosion: 'Corrosion',
  film: 'Film evidence',
  colour: 'Colour',
  optics: 'Film colour, growth and process maps',
  quality: 'Sampling, control charts, capability',
  numeric: 'Fitting',
  costing: 'Costing',
  planning: 'Planning',
  '': 'Errors and version',
};

const NOTICE =
  '<!-- Written by packages/calc/docs/generate.ts from the doc comments: change those, then run it again. -->';

/** One page an area, with an index of all functions; keys are file names. */
export function functionPages(names: readonly PublicName[]): Map<string, string> {
  const areas = [...new Set(names.map(({ area }) => area))].sort(byTitleOrder);
  const pages = areas.map((area) => [pageOf(area), writePage(area, names)] as const);
  return new Map([['README.md', writeIndex(areas, names)], ...pages]);
}

const byTitleOrder = (a: string, b: string): number => rank(a) - rank(b);

function rank(area: string): number {
  const place = Object.keys(TITLES).indexOf(area);
  if (place < 0) throw new Error(`area ${area} has no title: add one to TITLES`);
  // Object.keys keeps '' where it was written: last.
  return place;
}

const pageOf = (area: string): string => `${area || 'errors'}.md`;

/** Functions have a heading each; tables and types share one. */
const anchorOf = ({ kind, name }: PublicName): string =>
  kind === 'value' ? 'tables' : kind === 'type' ? 'types' : name.toLowerCase();

const isCallable = ({ kind }: PublicName): boolean => kind === 'function' || kind === 'class';

function writeIndex(areas: readonly string[], names: readonly PublicName[]): string {
  const sections = areas.map((area) => {
    const rows = names
      .filter((name) => name.area === area && isCallable(name))
      .map(
        (name) =>
          `| [\`${name.name}\`](${pageOf(area)}#${name.name.toLowerCase()}) | ${firstSentence(name)} |`,
      );
    return [
      `## [${TITLES[area]}](${pageOf(area)})`,
      ['| function | gives |', '| --- | --- |', ...rows].join('\n'),
    ];
  });
  return [
    NOTICE,
    '# Every function of the calculation package',
    'Generated from the doc comments. Every example is run as a test.',
    ...sections.flat(),
  ].join('\n\n');
}

const firstSentence = (name: PublicName): string =>
  prose(name, '')
    .replaceAll('\n', ' ')
    .replaceAll('|', '\\|')
    .match(/^.*?[.:](?= |$)/)?.[0]
    .replace(/:$/, '.') ?? '';

function writePage(area: string, all: readonly PublicName[]): string {
  const names = all.filter((name) => name.area === area);
  const links = new Map(all.map((name) => [name.name, `${pageOf(name.area)}#${anchorOf(name)}`]));
  const functions = names
    .filter(isCallable)
    .flatMap((name) => [
      `## ${name.name}`,
      code(signature(name)),
      prose(name, '', links),
      ...(name.example === null ? [] : [code(name.example)]),
    ]);
  const tables = names
    .filter(({ kind }) => kind === 'value')
    .map((name) => `- \`${name.name}\`: ${prose(name, '  ', links) || 'a table.'}`);
  const types = names
    .filter(({ kind }) => kind === 'type')
    .map(({ declaration }) => declaration.replace(/^export /, ''));
  return [
    NOTICE,
    `# ${TITLES[area]}`,
    ...functions,
    ...(tables.length > 0 ? ['## Tables', tables.join('\n')] : []),
    ...(types.length > 0 ? ['## Types', code(types.join('\n\n'))] : []),
  ].join('\n\n');
}

const code = (text: string): string => `\`\`\`ts\n${text}\n\`\`\``;

/** Classes are shown by how they are made; their members are in the source. */
const signature = ({ kind, name, declaration }: PublicName): string =>
  kind === 'class' ? `class ${name}` : declaration.replace(/^export /, '').replace(/\s*=>\s*$/, '');

/** The doc comment as Markdown: labelled paragraphs stand apart, and signs that Markdown would eat are kept. */
function prose({ description }: PublicName, indent: string, links = new Map<string, string>()): string {
  return description
    .replace(/\r?\n(?=(Valid|Source|Errors|Flags)\b)/g, '\n\n')
    .replace(/^(Valid|Source|Errors|Flags)(:?)/gm, '**$1**$2')
    .split(/(`[^`]*`|\{@link [^}]*\})/)
    .map((part) => {
      const link = /^\{@link ([^}]*)\}$/.exec(part)?.[1]?.trim();
      if (link) return links.has(link) ? `[\`${link}\`](${links.get(link)})` : `\`${link}\``;
      return part.startsWith('`') ? part : part.replace(/[<|]/g, '\\$&').replace(/(?<!\*)\*(?!\*)/g, '\\*');
    })
    .join('')
    .replaceAll('\n', `\n${indent}`)
    .trim();
}
