import type { AuditEntry } from '@huelot/contracts';

/**
 * One changed field in words.
 *
 * @example
 * changeInWords({ field: 'maximumTemperatureC', old: 22, new: 24 }) // 'maximum temperature C: 22 → 24'
 */
export function changeInWords({ field, old, new: now }: AuditEntry['changes'][number]): string {
  const name = fieldInWords(field);
  const after = valueInWords(now);
  return old === null || old === undefined ? `${name}: ${after}` : `${name}: ${valueInWords(old)} → ${after}`;
}

/**
 * The name of a field in words.
 *
 * @example
 * fieldInWords('acceptedCount') // 'accepted count'
 */
export function fieldInWords(field: string): string {
  return field
    .replaceAll('.', ', ')
    .replace(/([a-z0-9])([A-Z])/g, '$1 $2')
    .replace(/ ([A-Z])(?=[a-z])/g, (_, letter: string) => ` ${letter.toLowerCase()}`);
}

function valueInWords(value: unknown): string {
  if (value === null || value === undefined || value === '') return 'nothing';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'string') return value;
  if (Array.isArray(value)) return value.length === 0 ? 'nothing' : value.map(valueInWords).join(', ');
  return typeof value === 'number' ? String(value) : JSON.stringify(value);
}
