import { allAt, textAt, type Element } from './xml-elements.ts';

/*
 * Rules of EN 16931-1 over sums and what must be said, by their names in the standard; from memory. Amounts are compared in whole
 * hundredths, and of a rate the standard takes the tax rounded to them.
 */

const hundredths = (text: string) => Math.round(Number(text) * 100);
const sum = (elements: readonly Element[]) =>
  elements.reduce((total, { text }) => total + hundredths(text), 0);

/** The names of the rules that a file breaks. */
export function ruleFaults(root: Element): string[] {
  const isCredit = root.name === 'CreditNote';
  const lines = allAt(root, isCredit ? 'cac:CreditNoteLine' : 'cac:InvoiceLine');
  const total = (name: string) => hundredths(textAt(root, 'cac:LegalMonetaryTotal', `cbc:${name}`));
  const tax = hundredths(textAt(root, 'cac:TaxTotal', 'cbc:TaxAmount'));
  const groups = allAt(root, 'cac:TaxTotal', 'cac:TaxSubtotal');
  const seller = ['cac:AccountingSupplierParty', 'cac:Party'];
  const buyer = ['cac:AccountingCustomerParty', 'cac:Party'];
  const country = ['cac:PostalAddress', 'cac:Country', 'cbc:IdentificationCode'];
  const vat = ['cac:PartyTaxScheme', 'cbc:CompanyID'];
  const rules: [string, boolean][] = [
    ['BR-01', textAt(root, 'cbc:CustomizationID') !== ''],
    ['BR-02', textAt(root, 'cbc:ID') !== ''],
    ['BR-03', /^\d{4}-\d\d-\d\d$/.test(textAt(root, 'cbc:IssueDate'))],
    [
      'BR-04',
      textAt(root, isCredit ? 'cbc:CreditNoteTypeCode' : 'cbc:InvoiceTypeCode') ===
        (isCredit ? '381' : '380'),
    ],
    ['BR-05', /^[A-Z]{3}$/.test(textAt(root, 'cbc:DocumentCurrencyCode'))],
    ['BR-06', textAt(root, ...seller, 'cac:PartyLegalEntity', 'cbc:RegistrationName') !== ''],
    ['BR-07', textAt(root, ...buyer, 'cac:PartyLegalEntity', 'cbc:RegistrationName') !== ''],
    ['BR-09', textAt(root, ...seller, ...country) !== ''],
    ['BR-11', textAt(root, ...buyer, ...country) !== ''],
    ['BR-16', lines.length > 0],
    ['BR-CO-09', [seller, buyer].every((party) => /^([A-Z]{2}.+)?$/.test(textAt(root, ...party, ...vat)))],
    [
      'BR-CO-10',
      sum(lines.flatMap((line) => allAt(line, 'cbc:LineExtensionAmount'))) === total('LineExtensionAmount'),
    ],
    ['BR-CO-13', total('LineExtensionAmount') === total('TaxExclusiveAmount')],
    ['BR-CO-14', sum(groups.flatMap((group) => allAt(group, 'cbc:TaxAmount'))) === tax],
    ['BR-CO-15', total('TaxExclusiveAmount') + tax === total('TaxInclusiveAmount')],
    ['BR-CO-16', total('TaxInclusiveAmount') === total('PayableAmount')],
    ['BR-CO-17', groups.every(isTaxOfRate)],
    ['BR-CO-18', groups.length > 0],
    ['BR-CO-25', textAt(root, 'cbc:DueDate') + textAt(root, 'cac:PaymentTerms', 'cbc:Note') !== ''],
    ['BR-CO-26', textAt(root, ...seller, ...vat) !== ''],
    ['BR-DEC', amountsOf(root).every((text) => /^\d+(\.\d{1,2})?$/.test(text))],
    ...groups.flatMap((group): [string, boolean][] => categoryRules({ root, lines, group })),
    ...lines.flatMap((line): [string, boolean][] => lineRules(line)),
  ];
  return rules.flatMap(([name, holds]) => (holds ? [] : [name]));
}

/** Amounts of the document and of its lines; an item price may have more decimals. */
const amountsOf = (root: Element): string[] =>
  root.name === 'cac:Price'
    ? []
    : root.children.flatMap((child) => ('currencyID' in child.attributes ? [child.text] : amountsOf(child)));

/** One hundredth is allowed to the last credit note of an invoice, which gives back what is left of its tax. */
function isTaxOfRate(group: Element): boolean {
  const rate = Number(textAt(group, 'cac:TaxCategory', 'cbc:Percent'));
  const exact = (hundredths(textAt(group, 'cbc:TaxableAmount')) * rate) / 100;
  return Math.abs(hundredths(textAt(group, 'cbc:TaxAmount')) - exact) <= 1.5;
}

function categoryRules({
  root,
  lines,
  group,
}: {
  root: Element;
  lines: readonly Element[];
  group: Element;
}): [string, boolean][] {
  const category = textAt(group, 'cac:TaxCategory', 'cbc:ID');
  const rate = Number(textAt(group, 'cac:TaxCategory', 'cbc:Percent'));
  const reason = textAt(group, 'cac:TaxCategory', 'cbc:TaxExemptionReason');
  const ofCategory = lines.filter(
    (line) => textAt(line, 'cac:Item', 'cac:ClassifiedTaxCategory', 'cbc:ID') === category,
  );
  const buyerVat = textAt(
    root,
    'cac:AccountingCustomerParty',
    'cac:Party',
    'cac:PartyTaxScheme',
    'cbc:CompanyID',
  );
  const delivery = allAt(root, 'cac:Delivery')[0];
  return [
    [
      `BR-${category}-08`,
      sum(ofCategory.flatMap((line) => allAt(line, 'cbc:LineExtensionAmount'))) ===
        hundredths(textAt(group, 'cbc:TaxableAmount')),
    ],
    ['BR-S-05', category !== 'S' || rate > 0],
    ['BR-S-10', !['S', 'Z'].includes(category) || reason === ''],
    ['BR-E-10', !['E', 'AE', 'G', 'K'].includes(category) || (reason !== '' && rate === 0)],
    ['BR-AE-02', category !== 'AE' || buyerVat !== ''],
    ['BR-IC-02', category !== 'K' || buyerVat !== ''],
    [
      'BR-IC-12',
      category !== 'K' ||
        (delivery !== undefined &&
          textAt(delivery, 'cac:DeliveryLocation', 'cac:Address', 'cac:Country', 'cbc:IdentificationCode') !==
            ''),
    ],
  ];
}

function lineRules(line: Element): [string, boolean][] {
  const quantity = Number(textAt(line, 'cbc:InvoicedQuantity') || textAt(line, 'cbc:CreditedQuantity'));
  const price = Number(textAt(line, 'cac:Price', 'cbc:PriceAmount'));
  const base = Number(textAt(line, 'cac:Price', 'cbc:BaseQuantity') || 1);
  const net = Number(textAt(line, 'cbc:LineExtensionAmount'));
  return [
    ['BR-21', textAt(line, 'cbc:ID') !== ''],
    ['BR-22', quantity > 0],
    ['BR-25', textAt(line, 'cac:Item', 'cbc:Name') !== ''],
    ['BR-27', price >= 0],
    // A line is its share of the running total, which rounding moves by a hundredth at either end.
    ['line is its pieces at its price', Math.abs(net - (quantity * price) / base) < 0.0101],
  ];
}
