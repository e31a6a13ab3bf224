import { currencyCodes } from '@huelot/contracts';

/** Every time zone this browser knows, for choosing the shop's; its own first guess is the browser's. */
export const timeZones = (): { value: string; label: string }[] =>
  ['UTC', ...Intl.supportedValuesOf('timeZone').filter((zone) => zone !== 'UTC')].map((zone) => ({
    value: zone,
    label: zone.replaceAll('_', ' '),
  }));

export const browserTimeZone = (): string => Intl.DateTimeFormat().resolvedOptions().timeZone;

/** Every currency there is to choose, by its code and English name; `kept` is one that went out of use meanwhile. */
export function currencies(kept?: string): { value: string; label: string }[] {
  const names = new Intl.DisplayNames('en', { type: 'currency' });
  const codes = kept && !currencyCodes.includes(kept) ? [kept, ...currencyCodes] : currencyCodes;
  return codes.map((code) => ({ value: code, label: `${code}, ${names.of(code) ?? code}` }));
}
