import { problemCodes, type ProblemCode, type Wing } from '@huelot/contracts';
import { ANSWER_DAYS } from '../process/housekeeping.ts';

const wings: Record<Wing, string> = {
  core: 'People and sign-in, files, issued papers, the audit trail and the chain of the record',
  catalog: 'Customers, materials, parts, recipes, equipment, rates and the settings of the shop',
  lab: 'Tanks, baths, chemicals, analyses and additions',
  colour: 'Coupon series, and the colour a bath gives now',
  sales: 'Quotations and orders',
  production: 'Lots, travelers and sign-off at the tank',
  quality: 'Final inspection and shipment',
  billing: 'Delivery notes, labels and returns',
  workspace: 'Today, search, trace, imports and getting started',
};
export const tags = Object.entries(wings).map(([name, description]) => ({ name, description }));

/** The name of each response in the components of the document. */
export const responseNames: Readonly<Record<number, string>> = {
  400: 'BadRequest',
  401: 'Unauthorized',
  403: 'Forbidden',
  404: 'NotFound',
  409: 'Conflict',
  412: 'PreconditionFailed',
  413: 'ContentTooLarge',
  415: 'UnsupportedMediaType',
  422: 'UnprocessableContent',
  428: 'PreconditionRequired',
  429: 'TooManyRequests',
  500: 'InternalServerError',
  503: 'ServiceUnavailable',
  507: 'InsufficientStorage',
};

const codesOf = (status: number) =>
  (Object.keys(problemCodes) as ProblemCode[]).filter((code) => problemCodes[code] === status);
const retryAfter = { 'Retry-After': { $ref: '#/components/headers/RetryAfter' } };

const responses = Object.fromEntries(
  Object.entries(responseNames).map(([status, name]) => [
    name,
    {
      description: `A problem with one of the codes: ${codesOf(Number(status)).join(', ')}`,
      ...(status === '429' || status === '503' ? { headers: retryAfter } : {}),
      content: { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } },
    },
  ]),
);

/** What operations refer to by name. */
export const components = {
  securitySchemes: {
    session: {
      type: 'apiKey',
      in: 'cookie',
      name: 'huelot',
      description:
        'The cookie of a sign-in; over TLS its name is __Host-huelot. A scope is the permission that one of the roles must hold.',
    },
  },
  parameters: {
    IdempotencyKey: {
      name: 'Idempotency-Key',
      in: 'header',
      description:
        `Names one write of one person for ever. Sent again with the same body it gets the first answer, for ${ANSWER_DAYS} days, and ` +
        'changes nothing; with another body it is refused with 422 key-reused, and while the first is under way with 409 ' +
        'in-progress. A write that was refused left no answer: it may be sent again.',
      schema: { type: 'string', pattern: '^[\\w-]{8,100}$' },
    },
    IfMatch: {
      name: 'If-Match',
      in: 'header',
      required: true,
      description: 'The version the edit started from, as in the ETag; another one now is answered with 412.',
      schema: { type: 'string', pattern: '^(?:W/)?"[0-9]{1,9}"$' },
    },
  },
  headers: {
    ETag: {
      description: 'The version of the record, for the If-Match of the next edit',
      schema: { type: 'string' },
    },
    RetryAfter: { description: 'Seconds until it is worth asking again', schema: { type: 'integer' } },
  },
  responses,
} as const;

/** The schemas that nothing refers to: of each that has a name there is one to send and one to receive. */
export function unusedSchemas({ components: { schemas = {} } = {}, ...rest }: Document): string[] {
  const used = new Set<string>();
  const collect = (part: unknown) => {
    const references = JSON.stringify(part).matchAll(/"#\/components\/schemas\/([^"/]+)"/g);
    for (const [, name = ''] of references) {
      if (used.has(name)) continue;
      used.add(name);
      collect(schemas[name] ?? null);
    }
  };
  collect([rest, components]);
  return Object.keys(schemas).filter((name) => !used.has(name));
}
interface Document {
  components?: { schemas?: Readonly<Record<string, unknown>> };
}
