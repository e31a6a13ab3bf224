import * as contracts from '@huelot/contracts';
import { problemStatuses, type Endpoint } from '@huelot/contracts';

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

/** Every status that the description of the API says an endpoint answers with. */
export const describedStatuses = (endpoint: Endpoint): number[] => [
  endpoint.status,
  ...problemStatuses(endpoint),
  ...Object.keys(endpoint.otherReplies).map(Number),
];

/** What an address names that is no record by its id. */
const named: Record<string, string> = {
  ...{ ':kind': 'part', ':token': 'x'.repeat(43), ':set': 'materials', ':cause': 'bath-stop-1' },
};

/** The address of an endpoint with `1` wherever a record is named. */
export const addressOf = (endpoint: Endpoint, param = '1'): string =>
  `/api${endpoint.path.replaceAll(/:\w+/g, (name) => named[name] ?? param)}`;
