import { InvoiceService, invoiceSchema, type Invoice as Terms } from '@e-invoice-eu/core';
import { ruleFaults } from './en16931-rules.ts';
import { elementsOf, type Element } from './xml-elements.ts';

/*
 * What an independent implementation of EN 16931 says of a file in UBL 2.1: its schema of the terms (which there are, how often, from
 * which code lists), and the order in which it writes them itself; and the arithmetic and presence rules, below.
 */

interface Schema {
  $ref?: string;
  type?: string;
  properties?: Record<string, Schema>;
  items?: Schema;
}
const silent = { log: () => undefined, warn: () => undefined, error: () => undefined };

/** A credit note in the names of an invoice, as that implementation takes both. */
const invoiceNames: Readonly<Record<string, string>> = {
  CreditNote: 'ubl:Invoice',
  Invoice: 'ubl:Invoice',
  'cac:CreditNoteLine': 'cac:InvoiceLine',
  'cbc:CreditedQuantity': 'cbc:InvoicedQuantity',
  'cbc:CreditNoteTypeCode': 'cbc:InvoiceTypeCode',
};
const nameOf = (name: string) => invoiceNames[name] ?? name;

function resolve(schema: Schema | undefined): Schema {
  if (schema?.$ref === undefined) return schema ?? {};
  const path = schema.$ref.replace('#/', '').split('/');
  return resolve(
    path.reduce<unknown>((at, key) => (at as Record<string, unknown>)[key], invoiceSchema) as Schema,
  );
}

/** An element as the implementation takes it: attributes stand beside their element, what may repeat in an array. */
function termsOf({ children, text }: Element, schema: Schema): unknown {
  if (children.length === 0) return text;
  const terms: Record<string, unknown> = {};
  for (const child of children) {
    const name = nameOf(child.name);
    const own = resolve(schema.properties?.[name]);
    if (own.type === 'array')
      terms[name] = [...((terms[name] as unknown[] | undefined) ?? []), termsOf(child, resolve(own.items))];
    else terms[name] = termsOf(child, own);
    for (const [attribute, value] of Object.entries(child.attributes)) terms[`${name}@${attribute}`] = value;
  }
  return terms;
}

/**
 * The implementation asks for electronic addresses of both parties, as one network that carries such files does. The standard
 * does not (BT-34 and BT-49 may be left out): they are put in for it, and left out again of what it writes, and so is the process of
 * that network, which it adds (BT-23).
 */
const address: Element = {
  name: 'cbc:EndpointID',
  text: '1',
  attributes: { schemeID: '0088' },
  children: [],
};
const withAddresses = (element: Element): Element => ({
  ...element,
  children: [...(element.name === 'cac:Party' ? [address] : []), ...element.children.map(withAddresses)],
});
const isOfNetwork = (line: string) => /^cbc:(EndpointID|ProfileID) /.test(line);

const flat = ({ name, text, attributes, children }: Element): string[] => [
  `${name} ${children.length === 0 ? text : ''} ${JSON.stringify(attributes)}`,
  ...children.flatMap(flat),
];

/** What is wrong with a file; empty where nothing is. */
export async function en16931Faults(xml: string): Promise<string[]> {
  const root = elementsOf(xml);
  const schema = resolve((invoiceSchema as Schema).properties?.['ubl:Invoice']);
  const terms = { 'ubl:Invoice': termsOf(withAddresses(root), schema) } as unknown as Terms;
  let theirs: string;
  try {
    theirs = String(await new InvoiceService(silent).generate(terms, { format: 'UBL', lang: 'en' }));
  } catch (error) {
    return [`refused: ${JSON.stringify((error as { errors?: unknown }).errors ?? String(error))}`];
  }
  const ours = root.children.flatMap(flat);
  const written = elementsOf(theirs)
    .children.flatMap(flat)
    .filter((line) => !isOfNetwork(line));
  const order = ours.flatMap((line, index) =>
    line === written[index] ? [] : [`${index}: ${line} where ${written[index] ?? 'nothing'} is written`],
  );
  return [...order.slice(0, 5), ...ruleFaults(root)];
}
