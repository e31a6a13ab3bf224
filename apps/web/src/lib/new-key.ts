/**
 * A key that no other write has, as 32 hexadecimal digits. Made from `getRandomValues`, which pages over plain HTTP
 * have too; `randomUUID` they do not.
 *
 * @example
 * const item = { ...done, key: newKey() };
 */
export function newKey(): string {
  return [...crypto.getRandomValues(new Uint8Array(16))]
    .map((byte) => byte.toString(16).padStart(2, '0'))
    .join('');
}
