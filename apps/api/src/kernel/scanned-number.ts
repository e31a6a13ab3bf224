/**
 * The number of a traveler out of the address that its printed code holds, or what was typed. A scanner types the whole address.
 *
 * @example
 * scannedNumber('https://shop.example/t/T-00093/1') // 'T-00093'
 */
export function scannedNumber(typed: string): string {
  const scanned = /\/t\/([^/?#\s]+)\/\d+\/?(?:[?#]\S*)?$/.exec(typed.trim())?.[1];
  if (scanned === undefined) return typed.trim();
  try {
    return decodeURIComponent(scanned);
  } catch {
    return scanned;
  }
}
