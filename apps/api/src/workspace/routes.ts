import trace from './trace/routes.ts';
import today from './today/routes.ts';
import globalSearch from './global-search/routes.ts';
import gettingStarted from './getting-started/routes.ts';
import imports from './imports/routes.ts';

/** The rooms of this wing, as the app registers them. */
export const workspace = [trace, today, globalSearch, gettingStarted, imports];
