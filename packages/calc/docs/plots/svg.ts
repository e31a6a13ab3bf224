/** Colours that keep their contrast on the picture's own paper, whatever page it is shown on. */
export const PAPER = '#fdfcf9';
export const INK = { strong: '#1f2429', soft: '#565d66', grid: '#e8e4da', frame: '#d5d0c4' };

/** Distinguishable also with the usual colour vision deficiencies (after Okabe and Ito, darkened for thin lines). */
export const SERIES = [
  '#0b62a8',
  '#b8470a',
  '#08745c',
  '#8f2d6b',
  '#8a6400',
  '#4a4f57',
  '#5b46b2',
  '#2f7d32',
] as const;

export const series = (index: number): string => SERIES[index % SERIES.length] ?? INK.strong;

/** Two decimals of a pixel: enough to see, and the same on every machine. */
export const px = (value: number): number => Math.round(value * 100) / 100;

const escape = (words: string): string =>
  words.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');

export function element(
  name: string,
  attributes: Record<string, string | number>,
  children: readonly string[] = [],
): string {
  const list = Object.entries(attributes).map(([key, value]) => ` ${key}="${escape(String(value))}"`);
  const open = `<${name}${list.join('')}`;
  if (children.length === 0) return `${open}/>`;
  const words = children.length === 1 && !children[0]?.startsWith('<');
  return words
    ? `${open}>${escape(children[0] ?? '')}</${name}>`
    : `${open}>\n${children.join('\n')}\n</${name}>`;
}

export const text = (words: string, attributes: Record<string, string | number>): string =>
  element('text', attributes, [words]);
