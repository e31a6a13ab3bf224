import type { Customer, CustomerFacts } from '@huelot/contracts';

/** A form as it is typed: a number may be missing until it is there. */
export type CustomerValues = Omit<CustomerFacts, 'taxRatePercent'> & { taxRatePercent: number | null };

export const emptyContact = { name: '', role: '', email: '', phone: '' };

export const emptyCustomer = (currency: string): CustomerValues => ({
  name: '',
  currency,
  units: 'shop',
  taxNumber: '',
  taxRatePercent: 0,
  noTaxReason: '',
  country: '',
  paymentDays: null,
  terms: '',
  notes: '',
  contacts: [{ ...emptyContact }],
  addresses: [],
});

export const valuesOf = (customer: Customer): CustomerValues => ({
  name: customer.name,
  currency: customer.currency,
  units: customer.units,
  taxNumber: customer.taxNumber,
  taxRatePercent: customer.taxRatePercent,
  noTaxReason: customer.noTaxReason,
  country: customer.country,
  paymentDays: customer.paymentDays,
  terms: customer.terms,
  notes: customer.notes,
  contacts: customer.contacts,
  addresses: customer.addresses,
});

const isBlank = (contact: CustomerFacts['contacts'][number]) =>
  Object.values(contact).every((text) => text.trim() === '');

/** What is sent: rows that were never filled in are left out. A missing rate is none. */
export const factsOf = (values: CustomerValues): CustomerFacts => ({
  ...values,
  taxRatePercent: values.taxRatePercent ?? 0,
  contacts: values.contacts.filter((contact) => !isBlank(contact)),
  addresses: values.addresses.filter(({ lines }) => lines.trim() !== ''),
});
