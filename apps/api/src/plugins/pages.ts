/**
 * How the addresses of the app's pages begin. A test compares them with the pages there are.
 * Any other address is told that nothing is there: a watcher that asks for `/healthz` must not take a page for health.
 */
export const pageStarts: ReadonlySet<string> = new Set([
  '',
  'account',
  'audit',
  'colour-bench',
  'colour-standards',
  'colours',
  'customers',
  'design',
  'enquiries',
  'first-admin',
  'invitation',
  'lab',
  'lots',
  'materials',
  'orders',
  'parts',
  'people',
  'quotations',
  'rates',
  'recipes',
  'setup',
  'sign-in',
  't',
  'tanks',
  'tankside',
  'today',
  'trace',
  'travelers',
]);
