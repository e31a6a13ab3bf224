import * as contracts from '@huelot/contracts';
import type { Endpoint } from '@huelot/contracts';

/** Every endpoint of the contracts, by its name there. */
export const endpoints: [string, Endpoint][] = Object.entries(contracts as Record<string, unknown>).flatMap(
  ([name, value]) => (isEndpoint(value) ? [[name, value] as [string, Endpoint]] : []),
);

function isEndpoint(value: unknown): value is Endpoint {
  return (
    typeof value === 'object' &&
    value !== null &&
    'method' in value &&
    'path' in value &&
    'access' in value &&
    'reply' in value
  );
}

/** The address of an endpoint with `1` wherever a record is named. */
export const addressOf = (endpoint: Endpoint, param = '1'): string =>
  `/api${endpoint.path.replaceAll(/:\w+/g, (name) => (name === ':kind' ? 'part' : name === ':token' ? 'x'.repeat(43) : param))}`;
