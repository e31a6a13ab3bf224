import { z } from 'zod';
import { CountryCode, PaymentDays } from '../catalog/customers.ts';
import { defineCommand, defineQuery } from '../kernel/http.ts';
import { Text, Version } from '../kernel/scalars.ts';

/** Whether the check digits of an account number are right: mod 97 of ISO 13616, from memory. */
export function isIban(text: string): boolean {
  if (!/^[A-Z]{2}\d{2}[A-Z0-9]{11,30}$/.test(text)) return false;
  const digits = [...(text.slice(4) + text.slice(0, 4))].map((sign) => parseInt(sign, 36)).join('');
  return BigInt(digits) % 97n === 1n;
}

const billingFields = {
  country: CountryCode,
  /** The number under which the shop pays value added tax or sales tax. */
  taxNumber: Text(60),
  iban: z
    .string()
    .transform((text) => text.replaceAll(/\s/g, '').toUpperCase())
    .refine((text) => text === '' || isIban(text), 'is not an IBAN: its check digits do not fit'),
  bic: z.string().regex(/^([A-Z]{6}[A-Z0-9]{2}([A-Z0-9]{3})?)?$/, 'must be a BIC of 8 or 11 signs, or empty'),
  paymentDays: PaymentDays,
};
/** What the invoices of the shop say of it beside name, address and contact. */
export const BillingDetails = z
  .object({ ...billingFields, iban: z.string(), version: Version })
  .meta({ id: 'BillingDetails' });
export type BillingDetails = z.output<typeof BillingDetails>;

export const getBillingDetails = defineQuery({
  name: 'getBillingDetails',
  tags: ['billing'],
  path: '/billing-details',
  access: 'invoices.read',
  summary: 'What invoices say of the shop: country, tax number, bank account, days to pay',
  reply: BillingDetails,
});
export const updateBillingDetails = defineCommand({
  name: 'updateBillingDetails',
  tags: ['billing'],
  method: 'PUT',
  path: '/billing-details',
  access: 'setup.write',
  summary: 'Change what invoices say of the shop; issued ones keep what they said',
  body: z.strictObject(billingFields),
  reply: BillingDetails,
  versioned: true,
});
