/** Who may import whom. Each rule is the sentence that a violation prints. */

const test = '\\.test\\.ts$';
const domain = '^apps/api/src/domains/([^/]+)/';

/** The floors of the API's domains; each imports only from its own floor and those below. */
const floors = [
  ['people', 'audit'],
  ['setup', 'customers', 'materials', 'tanks', 'rates', 'files', 'chemicals', 'methods', 'baths'],
  ['parts', 'recipes', 'analyses', 'additions', 'coupons'],
  ['quotations'],
  ['orders'],
  ['lots', 'travelers'],
  ['inspection', 'trace', 'today', 'lab'],
];
const folder = (names) => `^apps/api/src/domains/(${names.join('|')})/`;

const forbid = (comment, from, to) => ({
  name: comment.replace(/[^a-z0-9]+/gi, '-').toLowerCase(),
  comment,
  severity: 'error',
  from,
  to,
});

module.exports = {
  forbidden: [
    forbid('No module imports itself round a circle.', { pathNot: '/generated/' }, { circular: true }),
    forbid('Every import finds its module.', {}, { couldNotResolve: true }),
    forbid(
      'A workspace imports only packages that its package.json names.',
      { path: '^(apps|packages)/', pathNot: test },
      { dependencyTypes: ['npm-no-pkg', 'npm-unknown'] },
    ),

    forbid(
      'calc is pure: it imports nothing but itself.',
      { path: '^packages/calc/src/', pathNot: test },
      { pathNot: '^packages/calc/' },
    ),
    forbid(
      'contracts say what crosses the wire: they import zod and themselves.',
      { path: '^packages/contracts/src/', pathNot: test },
      { pathNot: ['^packages/contracts/src/', '^node_modules/zod/'] },
    ),
    forbid(
      'Packages are imported by their name, not by their files.',
      { path: '^(apps|prisma|tests)/' },
      {
        path: '^packages/',
        pathNot: '^packages/[^/]+/src/index\\.ts$',
      },
    ),
    forbid('The API never imports the web app.', { path: '^apps/api/' }, { path: '^apps/web/' }),
    forbid(
      'The web app never imports the API or the database.',
      { path: '^apps/web/' },
      {
        path: ['^apps/api/', '^prisma/', '^node_modules/(pg|@prisma|fastify)/'],
      },
    ),

    forbid(
      'Only queries and db/ know Prisma or pg.',
      { path: '^apps/api/src/', pathNot: [test, '/[a-z-]*queries\\.ts$', '^apps/api/src/(db|generated)/'] },
      { path: ['^apps/api/src/generated/', '^node_modules/(@prisma|pg|pg-copy-streams)/'] },
    ),
    forbid(
      'Only routes, plugins, http/ and the process itself know Fastify.',
      {
        path: '^apps/api/src/',
        pathNot: [test, '/routes\\.ts$', '^apps/api/src/(plugins|http)/', '^apps/api/src/(app|serve)\\.ts$'],
      },
      { path: '^node_modules/(@fastify|fastify|fastify-plugin|fastify-type-provider-zod)/' },
    ),
    forbid(
      'Only documents know the PDF library.',
      { path: '^apps/api/src/', pathNot: [test, '^apps/api/src/documents/'] },
      {
        path: '^node_modules/pdfkit/',
      },
    ),
    forbid(
      'Routes are the top of a domain: only the app imports them.',
      { path: '^apps/api/src/', pathNot: [test, '^apps/api/src/app\\.ts$'] },
      {
        path: `${domain}routes\\.ts$`,
      },
    ),
    forbid(
      'Queries are the bottom of a domain: they import no use case and no route of it.',
      { path: `${domain}[a-z-]*queries\\.ts$` },
      {
        path: `^apps/api/src/domains/$1/`,
        pathNot: '/[a-z-]*queries\\.ts$',
      },
    ),
    forbid(
      'A domain is imported through its index.ts.',
      { path: '^apps/api/src/', pathNot: [test, '^apps/api/src/app\\.ts$', domain] },
      {
        path: domain,
        pathNot: '/index\\.ts$',
      },
    ),
    forbid(
      'A domain imports another through its index.ts.',
      { path: domain },
      {
        path: domain,
        pathNot: ['^apps/api/src/domains/$1/', '/index\\.ts$'],
      },
    ),
    ...floors
      .slice(0, -1)
      .map((names, floor) =>
        forbid(
          `${names.join(', ')} import no domain of a floor above.`,
          { path: folder(names) },
          { path: folder(floors.slice(floor + 1).flat()) },
        ),
      ),
    forbid(
      'Every domain stands on a floor: name it in .dependency-cruiser.cjs.',
      { path: domain, pathNot: folder(floors.flat()) },
      {},
    ),

    forbid(
      'Nothing that runs imports what only tests need.',
      { path: '^(apps|packages)/[^/]+/src/', pathNot: test },
      {
        path: ['^tests/', test],
      },
    ),
  ],
};
