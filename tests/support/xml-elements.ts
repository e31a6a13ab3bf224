import { XMLParser } from 'fast-xml-parser';

export interface Element {
  name: string;
  text: string;
  attributes: Record<string, string>;
  children: Element[];
}
type Node = Record<string, unknown>;

const parser = new XMLParser({
  preserveOrder: true,
  ignoreAttributes: false,
  attributeNamePrefix: '',
  parseTagValue: false,
  parseAttributeValue: false,
});

/** The root of a document, its elements in the order they stand in. */
export function elementsOf(xml: string): Element {
  const roots = (parser.parse(xml) as Node[]).map(elementOf).filter(({ name }) => !name.startsWith('?'));
  const [root] = roots;
  if (root === undefined || roots.length !== 1) throw new Error('a document has one root');
  return root;
}

function elementOf(node: Node): Element {
  const name = Object.keys(node).find((key) => key !== ':@') ?? '';
  const inside = (node[name] ?? []) as Node[];
  const attributes = Object.fromEntries(
    Object.entries((node[':@'] ?? {}) as Record<string, string>).filter(([key]) => !key.startsWith('xmlns')),
  );
  return {
    name,
    attributes,
    text: inside.map((one) => (one['#text'] as string | undefined) ?? '').join(''),
    children: inside.filter((one) => !('#text' in one)).map(elementOf),
  };
}

/** Every element at a path below another. */
export const allAt = (element: Element, ...path: string[]): Element[] =>
  path.reduce<Element[]>(
    (at, name) => at.flatMap(({ children }) => children.filter((one) => one.name === name)),
    [element],
  );
/** The words at a path, or nothing. */
export const textAt = (element: Element, ...path: string[]): string => allAt(element, ...path)[0]?.text ?? '';
