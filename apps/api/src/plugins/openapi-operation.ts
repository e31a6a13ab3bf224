import { EmptyBody, givesVersion, problemStatuses, replyType, type Endpoint } from '@huelot/contracts';
import type { z } from 'zod';
import { responseNames } from './openapi-components.ts';

interface Response {
  description?: string;
  headers?: object;
  content?: object;
}
export interface Operation {
  operationId: string;
  parameters?: object[];
  requestBody?: { required?: boolean; content: object };
  responses: Record<string, Response | { $ref: string }>;
}

/** What the schema of a route does not say of its endpoint. */
export const describeEndpoint = (endpoint: Endpoint): object => ({
  operationId: endpoint.name,
  tags: endpoint.tags,
  summary: endpoint.summary,
  ...(endpoint.method === 'GET' || endpoint.keyless === null
    ? {}
    : { description: `Refuses an Idempotency-Key. ${endpoint.keyless}` }),
  consumes: [endpoint.bodyType],
  produces: [replyType(endpoint)],
  security: securityOf(endpoint),
  'x-permission': endpoint.access,
});

function securityOf({ access }: Endpoint): object[] {
  if (access === 'anyone') return [];
  return [{ session: access === 'signed-in' ? [] : [access] }];
}

/** Adds to an operation the headers it takes and gives, and every other way it can answer. */
export function completeOperation(endpoint: Endpoint, operation: Operation): void {
  const headers = [
    ...(endpoint.keyless === null ? ['IdempotencyKey'] : []),
    ...(endpoint.versioned ? ['IfMatch'] : []),
  ];
  if (headers.length > 0)
    operation.parameters = [
      ...(operation.parameters ?? []),
      ...headers.map((name) => ({ $ref: `#/components/parameters/${name}` })),
    ];
  completeBody(endpoint, operation);

  const reply = operation.responses[endpoint.status] as Response;
  if (reply.description === 'Default Response') reply.description = endpoint.summary;
  if (givesVersion(endpoint)) reply.headers = { ETag: { $ref: '#/components/headers/ETag' } };
  for (const status of problemStatuses(endpoint))
    operation.responses[status] = { $ref: `#/components/responses/${responseNames[status] ?? ''}` };
  for (const [status, schema] of Object.entries(endpoint.otherReplies))
    operation.responses[status] = {
      description: endpoint.summary,
      content: { [replyType(endpoint)]: { schema: referTo(schema) } },
    };
}

/** Replies under a name are among the components. */
const referTo = (schema: z.ZodType) => ({ $ref: `#/components/schemas/${String(schema.meta()?.id)}` });

function completeBody({ body, bodyType }: Endpoint, { requestBody }: Operation): void {
  if (requestBody === undefined) return;
  if (bodyType === 'multipart/form-data') requestBody.content = { [bodyType]: { schema: fileForm } };
  else if (body === EmptyBody) requestBody.required = false;
}
const fileForm = {
  type: 'object',
  properties: { file: { type: 'string', format: 'binary' } },
  required: ['file'],
};
