/**
 * The address a telephone dials (RFC 3966): the number in digits, and an extension as a parameter, which is not part of
 * the number.
 *
 * @example
 * phoneLink('+49 711 5550100 ext. 12') // 'tel:+497115550100;ext=12'
 */
export function phoneLink(phone: string): string {
  const [, number = phone, extension] = /^(.*?)(?:\s*(?:ext|x)\.?\s*(\d+))?$/i.exec(phone.trim()) ?? [];
  const digits = number.replace(/\(0\)/g, '').replace(/[^+\d]/g, '');
  return `tel:${digits}${extension === undefined ? '' : `;ext=${extension}`}`;
}
