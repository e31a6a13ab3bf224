/**
 * JSON in one form, whoever writes it: members in the order of their UTF-16 code units, no white space (RFC 8785; numbers
 * are written as ECMAScript writes them, which that names).
 *
 * @example
 * canonicalJson({ b: 1, a: [2.50] }) // '{"a":[2.5],"b":1}'
 */
export function canonicalJson(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(',')}]`;
  if (typeof value !== 'object' || value === null) return JSON.stringify(value) ?? 'null';
  const members = Object.entries(value)
    .filter(([, member]) => member !== undefined)
    .sort(([one], [other]) => (one < other ? -1 : 1));
  return `{${members.map(([name, member]) => `${JSON.stringify(name)}:${canonicalJson(member)}`).join(',')}}`;
}
