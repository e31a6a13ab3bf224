import type { InvoiceFacts, NoTaxReason } from '@huelot/contracts';
import { describe, expect, it } from 'vitest';
import { en16931Faults } from '../../../../tests/support/en16931.ts';
import { fileFaults, invoiceUbl } from './invoice-ubl.ts';

const line = (extra: Partial<InvoiceFacts['lines'][number]> = {}): InvoiceFacts['lines'][number] => ({
  ...{ id: 1, position: 1, kind: 'pieces', label: '', priceReason: '', minimumApplied: false },
  order: { id: 1, number: 'O-00001', lineId: 1, line: 1, customerOrderNumber: 'PO 7' },
  part: { number: 'R & 1', revision: 'B', description: 'ring <12 mm> “x”' },
  shipment: {
    ...{ id: 1, number: 'S-00001', shippedOn: '2026-11-20', deliveryNote: 'DN-00001' },
    lot: { id: 1, number: 'L-00001' },
  },
  ...{ quantity: 24, basisTotal: '372.68', basisQuantity: 48, unitPrice: '7.7642', net: '186.34' },
  ...extra,
});
const facts = (extra: Partial<InvoiceFacts> = {}): InvoiceFacts => ({
  shop: {
    ...{
      name: 'Row & Works',
      address: '1 Row\nMill Lane\n1010 Town',
      contact: '',
      timeZone: 'UTC',
      units: 'metric',
    },
    ...{ country: 'AT', taxNumber: 'ATU12345675', iban: 'AT611904300234573201', bic: 'ABCDATWW' },
  },
  customer: { number: 'C-00001', name: 'Pell', address: 'Wharf', country: 'DE', taxNumber: 'DE123456789' },
  ...{
    currency: 'EUR',
    issuedOn: '2026-11-30',
    dueOn: '2026-12-30',
    paymentDays: 30,
    credits: null,
    notes: '',
  },
  lines: [line()],
  ...{ net: '186.34', taxRatePercent: 20, noTaxReason: '', tax: '37.27', gross: '223.61' },
  ...extra,
});
const invoice = (extra: Partial<InvoiceFacts> = {}) =>
  invoiceUbl({ kind: 'invoice', number: 'INV-00001', facts: facts(extra) });
const untaxed = (noTaxReason: NoTaxReason) => ({
  taxRatePercent: 0,
  noTaxReason,
  tax: '0.00',
  gross: '186.34',
});

describe('the structured file', () => {
  it('of an invoice is what an independent implementation of EN 16931 takes and would write itself', async () => {
    expect(await en16931Faults(invoice())).toEqual([]);
    const more = [
      line(),
      line({
        id: 2,
        position: 2,
        kind: 'one-off',
        label: 'tooling',
        shipment: null,
        quantity: 1,
        basisTotal: '80.50',
        basisQuantity: 1,
        net: '80.50',
      }),
    ];
    const sums = {
      lines: more,
      net: '266.84',
      tax: '53.37',
      gross: '320.21',
      notes: 'Thanks\u0001 & regards',
    };
    const xml = invoice(sums);
    expect(await en16931Faults(xml)).toEqual([]);
    expect(xml).not.toContain('\u0001');
  });

  it.each(['zero-rated', 'exempt', 'reverse-charge', 'export', 'intra-community'] as const)(
    'says why there is no tax: %s',
    async (reason) => {
      expect(await en16931Faults(invoice(untaxed(reason)))).toEqual([]);
    },
  );

  it('of a credit note names the invoice it corrects', async () => {
    const credits = { number: 'INV-00001', issuedOn: '2026-11-30', reason: 'scratched' };
    const xml = invoiceUbl({ kind: 'credit-note', number: 'CR-00001', facts: facts({ credits }) });
    expect(xml).toContain('<CreditNote');
    expect(xml).toContain('INV-00001');
    expect(await en16931Faults(xml)).toEqual([]);
  });

  it.each([
    ['a sum that is off by a cent', '>223.61<', '>223.62<'],
    ['a tax that is not of its rate', '>37.27<', '>39.27<'],
    [
      'a line that is not in the sum',
      '>186.34</cbc:LineExtensionAmount>\n    <cac:Item',
      '>186.00</cbc:LineExtensionAmount>\n    <cac:Item',
    ],
    ['a currency there is none of', '>EUR</', '>EUX</'],
    ['a country there is none of', '>AT</', '>A1</'],
    [
      'an element out of its place',
      '<cbc:ID>INV-00001</cbc:ID>\n  <cbc:IssueDate>2026-11-30</cbc:IssueDate>',
      '<cbc:IssueDate>2026-11-30</cbc:IssueDate>\n  <cbc:ID>INV-00001</cbc:ID>',
    ],
    ['an element that the standard does not know', '<cbc:DueDate>', '<cbc:UUID>x</cbc:UUID><cbc:DueDate>'],
    ['no seller number', '<cbc:CompanyID>ATU12345675</cbc:CompanyID>', ''],
  ])('with %s would be noticed', async (_, found, instead) => {
    const xml = invoice();
    expect(xml).toContain(found);
    expect(await en16931Faults(xml.replaceAll(found, instead))).not.toEqual([]);
  });
});

describe('what is missing for a file', () => {
  const shop = facts().shop;
  const customer = facts().customer;
  it.each([
    ['nothing', {}, []],
    ['the name of the shop', { shop: { ...shop, name: '' } }, ['BR-06']],
    ['the country of the shop', { shop: { ...shop, country: '' } }, ['BR-09']],
    ['the tax number of the shop', { shop: { ...shop, taxNumber: '12345' } }, ['BR-CO-26']],
    ['the country of the customer', { customer: { ...customer, country: '' } }, ['BR-11']],
    ['its tax number as it should be', { customer: { ...customer, taxNumber: '123' } }, ['BR-CO-09']],
    [
      'its tax number at all',
      { customer: { ...customer, taxNumber: '' }, ...untaxed('reverse-charge') },
      ['BR-AE-02'],
    ],
    ['why there is no tax', untaxed(''), ['BR-S-05']],
    ['a currency of two decimals', { currency: 'KWD' }, ['BR-DEC']],
  ] as [string, Partial<InvoiceFacts>, string[]][])('is %s', (_, extra, rules) => {
    const faults = fileFaults({ kind: 'invoice', facts: facts(extra) });
    expect(faults).toHaveLength(rules.length);
    for (const rule of rules) expect(faults.join(' ')).toContain(rule);
  });
});
