import type { ProblemCode } from '@huelot/contracts';
import type { Outage } from '../db/outage.ts';

interface OutageWords {
  code: ProblemCode;
  /** What is the matter. */
  matter: string;
  /** What became of the request, and what to do. */
  advice: string;
}

const tryAgain = 'Nothing was saved by this request; try again in a moment.';
const askTheKeeper = 'Nothing was saved by this request. Tell whoever runs the server.';

/** What somebody whose request met an outage is told. */
export const outageWords: Record<Outage, OutageWords> = {
  unreachable: {
    code: 'unavailable',
    matter: 'The database cannot be reached: nothing answers at its address.',
    advice: tryAgain,
  },
  refused: {
    code: 'unavailable',
    matter: 'The database refuses the sign-in of this service.',
    advice: askTheKeeper,
  },
  starting: { code: 'unavailable', matter: 'The database is starting.', advice: tryAgain },
  stopping: { code: 'unavailable', matter: 'The database is being stopped.', advice: tryAgain },
  // The connection may have gone between the commit and the word of it.
  'connection-lost': {
    code: 'unavailable',
    matter: 'The connection to the database broke off.',
    advice: 'Look whether this request was saved before you enter it again.',
  },
  'read-only': {
    code: 'unavailable',
    matter: 'The database takes no changes just now: it is a standby, or was set to read only.',
    advice: askTheKeeper,
  },
  busy: {
    code: 'busy',
    matter: 'All connections to the database are in use, and none came free in time.',
    advice: tryAgain,
  },
  'out-of-memory': { code: 'busy', matter: 'The database is short of memory.', advice: tryAgain },
  'too-slow': {
    code: 'busy',
    matter: 'The database took too long, and undid what it had begun.',
    advice: tryAgain,
  },
  'disk-full': {
    code: 'disk-full',
    matter: 'The server has no room left on its disk.',
    advice: askTheKeeper,
  },
};
