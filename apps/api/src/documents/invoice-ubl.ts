import { minorDigitsOf, type InvoiceFacts, type InvoiceKind, type InvoiceLine } from '@huelot/contracts';
import { XMLBuilder } from 'fast-xml-parser';

/*
 * An invoice or credit note as EN 16931 says it in UBL 2.1 (ISO/IEC 19845): the terms BT and groups BG of the standard, in the order
 * the schema of UBL asks for. Code lists are UNTDID 1001 (type), 4461 (means of payment), 5305 (tax category), UN/ECE Rec 20 (unit).
 */

type Document = { kind: InvoiceKind; number: string; facts: InvoiceFacts };
type Node = { readonly [name: string]: unknown };

/** Tax categories of UNTDID 5305, and why they carry no tax: codes and words of the VATEX list. */
const untaxed = {
  '': { category: 'S' },
  'zero-rated': { category: 'Z' },
  exempt: { category: 'E', reason: 'Exempt from tax' },
  'reverse-charge': { category: 'AE', code: 'VATEX-EU-AE', reason: 'Reverse charge' },
  export: { category: 'G', code: 'VATEX-EU-G', reason: 'Export outside the EU' },
  'intra-community': { category: 'K', code: 'VATEX-EU-IC', reason: 'Intra-community supply' },
} as const satisfies Record<
  InvoiceFacts['noTaxReason'],
  { category: string; code?: string; reason?: string }
>;

/** The rate decides first: a reason for no tax says nothing where tax is added. */
const taxOf = ({
  taxRatePercent,
  noTaxReason,
}: InvoiceFacts): { category: string; code?: string; reason?: string } =>
  taxRatePercent > 0 ? untaxed[''] : untaxed[noTaxReason];

/** A number of value added tax begins with the country of ISO 3166-1; that of Greece with EL (rule BR-CO-09). */
const isVatNumber = (taxNumber: string) => /^[A-Z]{2}[\dA-Z]/.test(taxNumber);

/**
 * What is missing for a file that EN 16931 takes: which field, and where it is entered. Empty where nothing is. The rules are named
 * as the standard names them.
 */
export function fileFaults({ facts }: Pick<Document, 'kind' | 'facts'>): string[] {
  const { shop, customer, currency, taxRatePercent, noTaxReason } = facts;
  const { category } = taxOf(facts);
  const faults: [boolean, string][] = [
    [shop.name === '', 'The name of the shop is missing: Setup, Shop (BR-06).'],
    [shop.country === '', 'The country of the shop is missing: Setup, Invoices (BR-09).'],
    [customer.country === '', 'The country of the customer is missing: on the customer (BR-11).'],
    [
      !isVatNumber(shop.taxNumber),
      'The tax number of the shop is missing, or does not begin with its country: Setup, Invoices (BR-CO-09, BR-CO-26).',
    ],
    [
      customer.taxNumber !== '' && !isVatNumber(customer.taxNumber),
      'The tax number of the customer does not begin with its country: on the customer (BR-CO-09).',
    ],
    [
      ['AE', 'K'].includes(category) && customer.taxNumber === '',
      'The customer accounts for the tax, and its tax number is missing: on the customer (BR-AE-02, BR-IC-02).',
    ],
    [
      taxRatePercent === 0 && noTaxReason === '',
      'No tax is added, and nothing says why: on the customer, reason for no tax (BR-S-05).',
    ],
    [
      minorDigitsOf(currency) > 2,
      `${currency} is counted in more than two decimals, which the standard does not take (BR-DEC).`,
    ],
  ];
  return faults.flatMap(([missing, words]) => (missing ? [words] : []));
}

const namespaces = (root: string) => ({
  '@_xmlns': `urn:oasis:names:specification:ubl:schema:xsd:${root}-2`,
  '@_xmlns:cac': 'urn:oasis:names:specification:ubl:schema:xsd:CommonAggregateComponents-2',
  '@_xmlns:cbc': 'urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2',
});
const scheme = { 'cac:TaxScheme': { 'cbc:ID': 'VAT' } };
/** Only where there is something to say: no element of the standard is empty. */
const where = (isThere: boolean, node: Node): Node => (isThere ? node : {});
const only = <T>(values: readonly T[]): T | null => {
  const [first, ...others] = new Set(values);
  return first === undefined || others.length > 0 ? null : first;
};
/** What XML 1.0 cannot hold is left out. */
const printable = (text: string) =>
  text.replaceAll(/[^\t\n\r\u0020-\uD7FF\uE000-\uFFFD\u{10000}-\u{10FFFF}]/gu, '');

const writer = new XMLBuilder({
  ignoreAttributes: false,
  format: true,
  suppressEmptyNode: true,
  processEntities: true,
  tagValueProcessor: (_, value) => printable(String(value)),
});

/**
 * The file of an invoice in which {@link fileFaults} found nothing.
 *
 * @example
 * invoiceUbl({ kind: 'invoice', number: 'INV-00001', facts }) // '<?xml version="1.0" encoding="UTF-8"?>…'
 */
export function invoiceUbl({ kind, number, facts }: Document): string {
  const isInvoice = kind === 'invoice';
  const root = isInvoice ? 'Invoice' : 'CreditNote';
  const amount = (value: string): Node => ({ '#text': value, '@_currencyID': facts.currency });
  const shipped = facts.lines.flatMap(({ shipment }) => (shipment === null ? [] : [shipment]));
  const days = shipped.map(({ shippedOn }) => shippedOn).toSorted();
  const note = [facts.notes, facts.credits?.reason ?? ''].filter(Boolean).join('\n');
  const buyerOrder = only(facts.lines.map(({ order }) => order.customerOrderNumber));
  const salesOrder = only(facts.lines.map(({ order }) => order.number));
  const deliveryNote = only(shipped.map((one) => one.deliveryNote));
  const body: Node = {
    ...namespaces(root),
    'cbc:CustomizationID': 'urn:cen.eu:en16931:2017',
    'cbc:ID': number,
    'cbc:IssueDate': facts.issuedOn,
    ...where(isInvoice, { 'cbc:DueDate': facts.dueOn }),
    [isInvoice ? 'cbc:InvoiceTypeCode' : 'cbc:CreditNoteTypeCode']: isInvoice ? '380' : '381',
    ...where(note !== '', { 'cbc:Note': note }),
    'cbc:DocumentCurrencyCode': facts.currency,
    ...where(days.length > 0 && days[0] !== days.at(-1), {
      'cac:InvoicePeriod': { 'cbc:StartDate': days[0], 'cbc:EndDate': days.at(-1) },
    }),
    ...where(Boolean(buyerOrder), {
      'cac:OrderReference': {
        'cbc:ID': buyerOrder,
        ...where(salesOrder !== null, { 'cbc:SalesOrderID': salesOrder }),
      },
    }),
    ...where(facts.credits !== null, {
      'cac:BillingReference': {
        'cac:InvoiceDocumentReference': {
          'cbc:ID': facts.credits?.number,
          'cbc:IssueDate': facts.credits?.issuedOn,
        },
      },
    }),
    ...where(deliveryNote !== null, { 'cac:DespatchDocumentReference': { 'cbc:ID': deliveryNote } }),
    'cac:AccountingSupplierParty': { 'cac:Party': party(facts.shop) },
    'cac:AccountingCustomerParty': { 'cac:Party': party(facts.customer) },
    ...where(days.length > 0, { 'cac:Delivery': delivery(facts, days.at(-1) ?? '') }),
    ...where(isInvoice && facts.shop.iban !== '', { 'cac:PaymentMeans': transfer(facts, number) }),
    'cac:PaymentTerms': {
      'cbc:Note':
        facts.credits === null
          ? `Payable within ${facts.paymentDays} days, by ${facts.dueOn}`
          : `Taken off ${facts.credits.number}, or paid back`,
    },
    'cac:TaxTotal': taxTotal(facts, amount),
    'cac:LegalMonetaryTotal': {
      'cbc:LineExtensionAmount': amount(facts.net),
      'cbc:TaxExclusiveAmount': amount(facts.net),
      'cbc:TaxInclusiveAmount': amount(facts.gross),
      'cbc:PayableAmount': amount(facts.gross),
    },
    [`cac:${root}Line`]: facts.lines.map((line) => lineNode({ line, facts, isInvoice, amount })),
  };
  return `<?xml version="1.0" encoding="UTF-8"?>\n${writer.build({ [root]: body })}`;
}

/** Seller (BG-4) or buyer (BG-7): an address in lines stays in lines, since nothing says which of them is the town. */
function party({
  name,
  address,
  country,
  taxNumber,
}: Pick<InvoiceFacts['shop'], 'name' | 'address' | 'country' | 'taxNumber'>): Node {
  const [street, more, ...rest] = address
    .split('\n')
    .map((line) => line.trim())
    .filter(Boolean);
  return {
    'cac:PostalAddress': {
      ...where(street !== undefined, { 'cbc:StreetName': street }),
      ...where(more !== undefined, { 'cbc:AdditionalStreetName': more }),
      ...where(rest.length > 0, { 'cac:AddressLine': { 'cbc:Line': rest.join(', ') } }),
      'cac:Country': { 'cbc:IdentificationCode': country },
    },
    ...where(taxNumber !== '', {
      'cac:PartyTaxScheme': { 'cbc:CompanyID': taxNumber.replaceAll(' ', ''), ...scheme },
    }),
    'cac:PartyLegalEntity': { 'cbc:RegistrationName': name },
  };
}

const delivery = (facts: InvoiceFacts, day: string): Node => ({
  'cbc:ActualDeliveryDate': day,
  ...where(taxOf(facts).category === 'K', {
    'cac:DeliveryLocation': {
      'cac:Address': { 'cac:Country': { 'cbc:IdentificationCode': facts.customer.country } },
    },
  }),
});

/** A credit transfer: 58 within SEPA, which settles in euro, else 30. */
const transfer = ({ shop, currency }: InvoiceFacts, number: string): Node => ({
  'cbc:PaymentMeansCode': currency === 'EUR' ? '58' : '30',
  'cbc:PaymentID': number,
  'cac:PayeeFinancialAccount': {
    'cbc:ID': shop.iban,
    'cbc:Name': shop.name,
    ...where(shop.bic !== '', { 'cac:FinancialInstitutionBranch': { 'cbc:ID': shop.bic } }),
  },
});

function taxTotal(facts: InvoiceFacts, amount: (value: string) => Node): Node {
  const { category, code, reason } = taxOf(facts);
  return {
    'cbc:TaxAmount': amount(facts.tax),
    'cac:TaxSubtotal': {
      'cbc:TaxableAmount': amount(facts.net),
      'cbc:TaxAmount': amount(facts.tax),
      'cac:TaxCategory': {
        'cbc:ID': category,
        'cbc:Percent': facts.taxRatePercent,
        ...where(code !== undefined, { 'cbc:TaxExemptionReasonCode': code }),
        ...where(reason !== undefined, { 'cbc:TaxExemptionReason': reason }),
        ...scheme,
      },
    },
  };
}

function lineNode({
  line,
  facts,
  isInvoice,
  amount,
}: {
  line: InvoiceLine;
  facts: InvoiceFacts;
  isInvoice: boolean;
  amount: (value: string) => Node;
}): Node {
  const { part, shipment, order } = line;
  const pieces = (count: number): Node => ({ '#text': count, '@_unitCode': 'C62' });
  const note = [
    `Order ${order.number} line ${order.line}`,
    shipment && `shipment ${shipment.number} of ${shipment.shippedOn}, lot ${shipment.lot.number}`,
    shipment?.deliveryNote && `delivery note ${shipment.deliveryNote}`,
    order.customerOrderNumber && `your order ${order.customerOrderNumber}`,
  ];
  const name = line.kind === 'one-off' ? line.label : `${part.number} revision ${part.revision}`;
  return {
    'cbc:ID': line.position,
    'cbc:Note': note.filter(Boolean).join(', '),
    [isInvoice ? 'cbc:InvoicedQuantity' : 'cbc:CreditedQuantity']: pieces(line.quantity),
    'cbc:LineExtensionAmount': amount(line.net),
    'cac:Item': {
      ...where(part.description !== '', { 'cbc:Description': part.description }),
      'cbc:Name': name,
      ...where(line.kind === 'pieces', { 'cac:BuyersItemIdentification': { 'cbc:ID': part.number } }),
      'cac:ClassifiedTaxCategory': {
        'cbc:ID': taxOf(facts).category,
        'cbc:Percent': facts.taxRatePercent,
        ...scheme,
      },
    },
    'cac:Price': {
      'cbc:PriceAmount': amount(line.basisTotal),
      'cbc:BaseQuantity': pieces(line.basisQuantity),
    },
  };
}
