import type { AuditEntry } from '@huelot/contracts';
import type { Quantity } from '@huelot/calc';
import { fieldLabel } from '$lib/format/field-label.ts';

/** How figures and instants are written for whoever reads. */
export interface ValueFormat {
  quantity: (quantity: Quantity, value: number) => string;
  dateTime: (instant: string) => string;
  day: (day: string) => string;
}

/** One thing that changed, never an object or a list of objects. */
interface Leaf {
  path: string[];
  old: unknown;
  now: unknown;
}

/** More differences inside one field than this are counted, not listed. */
const MAX_LEAVES = 12;

/**
 * A changed field as sentences, in the units and the clock of the reader; one for each difference inside it.
 *
 * @example
 * changeSentences({ field: 'areaMm2', old: 42_000, new: 43_000 }, format) // ['area from 4.20 dm² to 4.30 dm²']
 */
export function changeSentences(change: AuditEntry['changes'][number], format: ValueFormat): string[] {
  const leaves = differences({ path: change.field.split('.'), old: change.old, now: change.new });
  const listed = leaves.slice(0, MAX_LEAVES).map((leaf) => sentence(leaf, format));
  const rest = leaves.length - listed.length;
  return rest > 0 ? [...listed, `and ${rest} more in ${fieldLabel(change.field).label}`] : listed;
}

const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null;
const isList = (value: unknown): value is unknown[] => Array.isArray(value) && value.some(isObject);

function differences({ path, old, now }: Leaf): Leaf[] {
  if (isList(old) || isList(now)) {
    const [before, after] = [old, now].map((value) => (Array.isArray(value) ? value : []) as unknown[]);
    const length = Math.max(before?.length ?? 0, after?.length ?? 0);
    return Array.from({ length }, (_, index) => index).flatMap((index) =>
      differences({ path: [...path, String(index + 1)], old: before?.[index], now: after?.[index] }),
    );
  }
  const plain = (value: unknown) => !isObject(value) || Array.isArray(value);
  if (plain(old) && plain(now)) {
    return JSON.stringify(old ?? null) === JSON.stringify(now ?? null) ? [] : [{ path, old, now }];
  }
  const [before, after] = [old, now].map((value) => (isObject(value) && !Array.isArray(value) ? value : {}));
  return [...new Set([...Object.keys(before ?? {}), ...Object.keys(after ?? {})])]
    .filter((key) => key !== 'id' && key !== 'version')
    .flatMap((key) => differences({ path: [...path, key], old: before?.[key], now: after?.[key] }));
}

function sentence({ path, old, now }: Leaf, format: ValueFormat): string {
  const name = path
    .map((part) => (/^\d+$/.test(part) ? part : fieldLabel(part).label))
    .join(', ')
    .replace(/, (\d+)/g, ' $1');
  const { quantity } = fieldLabel(path.findLast((part) => !/^\d+$/.test(part)) ?? '');
  const said = (value: unknown) => valueText(value, quantity, format);
  if (isEmpty(old)) return `${name}: ${said(now)}`;
  if (isEmpty(now)) return `${name} removed, was ${said(old)}`;
  return `${name} from ${said(old)} to ${said(now)}`;
}

const isEmpty = (value: unknown): boolean =>
  value === null || value === undefined || value === '' || (Array.isArray(value) && value.length === 0);

function valueText(value: unknown, quantity: Quantity | null, format: ValueFormat): string {
  if (isEmpty(value)) return 'nothing';
  if (Array.isArray(value)) return value.map((item) => valueText(item, quantity, format)).join(', ');
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'number') return quantity === null ? String(value) : format.quantity(quantity, value);
  if (typeof value !== 'string') return '…';
  if (/^\d{4}-\d\d-\d\dT[\d:.]+(Z|[+-]\d\d:?\d\d)$/.test(value)) return format.dateTime(value);
  if (/^\d{4}-\d\d-\d\d$/.test(value)) return format.day(value);
  return /\s/.test(value) ? `“${value.replace(/\s*\n\s*/g, ', ')}”` : value;
}
