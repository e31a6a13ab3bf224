/** Every time zone this browser knows, for choosing the shop's; its own first guess is the browser's. */
export const timeZones = (): { value: string; label: string }[] =>
  ['UTC', ...Intl.supportedValuesOf('timeZone').filter((zone) => zone !== 'UTC')].map((zone) => ({
    value: zone,
    label: zone.replaceAll('_', ' '),
  }));

export const browserTimeZone = (): string => Intl.DateTimeFormat().resolvedOptions().timeZone;

/** Every currency this browser knows, by ISO 4217 code and name. */
export function currencies(): { value: string; label: string }[] {
  const names = new Intl.DisplayNames('en', { type: 'currency' });
  return Intl.supportedValuesOf('currency').map((code) => ({
    value: code,
    label: `${code} – ${names.of(code)}`,
  }));
}
