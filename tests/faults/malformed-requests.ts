import fc from 'fast-check';
import { nearly } from '../support/malformed.ts';

type Schema = Parameters<typeof nearly>[0];

/** One operation of the description of the API. */
export interface Operation {
  method: string;
  path: string;
  queryNames: string[];
  body: Schema | null;
}
/** A request as it is sent. */
export interface Malformed {
  method: string;
  address: string;
  headers: Record<string, string>;
  body: string | null;
}

interface Description {
  paths: Record<string, Record<string, Described>>;
}
interface Described {
  parameters?: { in: string; name: string }[];
  requestBody?: { content: Record<string, { schema?: Schema }> };
}

/** The operations of an OpenAPI document. */
export const operationsOf = ({ paths }: Description): Operation[] =>
  Object.entries(paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, { parameters = [], requestBody }]) => ({
      method: method.toUpperCase(),
      path,
      queryNames: parameters.flatMap((parameter) => (parameter.in === 'query' ? [parameter.name] : [])),
      body: requestBody === undefined ? null : (Object.values(requestBody.content)[0]?.schema ?? {}),
    })),
  );

/** A body larger than any endpoint takes but the uploads: the service may hang up before it has read it. */
export const isOversized = ({ body }: Malformed): boolean => (body?.length ?? 0) > 2 * 1024 * 1024;

const ids = fc.constantFrom(
  '1',
  '2',
  '3',
  '999999',
  '0',
  '-1',
  'x',
  '1.5',
  '4294967296',
  '%00',
  '%2e%2e',
  '%ff',
  'part',
);
const words = fc.constantFrom(
  '',
  '0',
  '-1',
  '99999999999',
  'x',
  "'",
  '%',
  '\0',
  '2026-02-30',
  '[]',
  'a'.repeat(600),
);
const header = (values: string[]) => fc.option(fc.constantFrom(...values), { nil: undefined, freq: 1 });

/** Requests close to what an operation takes, each wrong in one way or several. */
export function malformed({ method, path, queryNames, body }: Operation): fc.Arbitrary<Malformed> {
  const names = queryNames.length === 0 ? fc.constant('x') : fc.constantFrom(...queryNames, 'x');
  return fc
    .record({
      params: fc.array(ids, { minLength: 4, maxLength: 4 }),
      query: fc.array(fc.tuple(names, words), { maxLength: 3 }),
      text: body === null || method === 'GET' ? fc.constant(null) : textOf(body),
      type: fc.oneof(
        { weight: 9, arbitrary: fc.constant('application/json') },
        {
          weight: 1,
          arbitrary: fc.constantFrom('text/plain', 'application/xml', 'multipart/form-data; boundary=x', '*'),
        },
      ),
      version: header(['"1"', '"2"', '1', 'W/"1"', '*', '"x"', '"99999999999999999999"']),
      key: header(['00000000-0000-4000-8000-000000000000', 'x', 'k'.repeat(5000)]),
    })
    .map(({ params, query, text, type, version, key }) => {
      let index = 0;
      const filled = path.replaceAll(/\{\w+\}/g, () => params[index++] ?? '1');
      const search = new URLSearchParams(query).toString();
      return {
        method,
        address: search === '' ? filled : `${filled}?${search}`,
        headers: {
          ...(text === null ? {} : { 'content-type': type }),
          ...(version === undefined ? {} : { 'if-match': version }),
          ...(key === undefined ? {} : { 'idempotency-key': key }),
        },
        body: text,
      };
    });
}

/** Mostly JSON that nearly fits; else what is no JSON, hides a prototype, nests deep or never seems to end. */
const textOf = (schema: Schema): fc.Arbitrary<string> =>
  fc.oneof(
    { weight: 40, arbitrary: nearly(schema).map((value) => JSON.stringify(value)) },
    {
      weight: 4,
      arbitrary: fc.constantFrom(
        '',
        '{"name":',
        '\uFEFF{}',
        '{"__proto__":{"x":1}}',
        '{"constructor":{"prototype":{"x":1}}}',
        '['.repeat(20_000),
        '{"name":"\\ud800"}',
        '1e999',
      ),
    },
    { weight: 1, arbitrary: fc.constant(JSON.stringify({ name: 'x'.repeat(3_000_000) })) },
  );
