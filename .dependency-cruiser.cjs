/** Who may import whom. Each rule is the sentence that a violation prints. */

const test = '\\.test\\.ts$|^apps/web/src/test/';
/** The wings of API and contracts, the lowest first; each imports only from itself and those before it. */
const wings = ['core', 'catalog', 'lab', 'colour', 'sales', 'production', 'quality', 'billing', 'workspace'];
const inWing = (names, src = 'apps/api/src') => `^${src}/(?:${names.join('|')})/`;
/** A room of a wing: its folder is the first group. */
const room = `^apps/api/src/((?:${wings.join('|')})/[^/]+)/`;

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
      "Routes hold SvelteKit's own files only.",
      { path: '^apps/web/src/routes/', pathNot: '/\\+[^/]+$' },
      {},
    ),
    forbid(
      'A route imports no file of a route.',
      { path: '^apps/web/src/' },
      { path: '^apps/web/src/routes/' },
    ),
    forbid(
      'Only routes and features import features.',
      { path: '^apps/web/src/', pathNot: '^apps/web/src/(lib/features|routes)/' },
      { path: '^apps/web/src/lib/features/' },
    ),
    forbid(
      'lib/ui imports no form, no chart and nothing of the shell.',
      { path: '^apps/web/src/lib/ui/' },
      { path: '^apps/web/src/lib/(forms|charts|shell)/' },
    ),
    {
      ...forbid(
        'Features import each other without circles.',
        { path: '^apps/web/src/lib/features/[^/]+$' },
        { circular: true },
      ),
      scope: 'folder',
    },

    forbid(
      'Only queries and db/ know Prisma or pg.',
      { path: '^apps/api/src/', pathNot: [test, '/[a-z-]*queries\\.ts$', '^apps/api/src/(db|generated)/'] },
      { path: ['^apps/api/src/generated/', '^node_modules/(@prisma|pg|pg-copy-streams)/'] },
    ),
    forbid(
      'Only routes, plugins, http/ and the process itself know Fastify.',
      {
        path: '^apps/api/src/',
        pathNot: [
          test,
          '/[a-z-]*routes\\.ts$',
          '^apps/api/src/(plugins|http|process)/',
          '^apps/api/src/app\\.ts$',
        ],
      },
      { path: '^node_modules/(@fastify|fastify|fastify-plugin|fastify-type-provider-zod)/' },
    ),
    forbid(
      'Only documents know the PDF library.',
      {
        path: '^apps/api/src/',
        pathNot: [test, '^apps/api/src/documents/', '^apps/api/src/demo/lab-report'],
      },
      {
        path: '^node_modules/pdfkit/',
      },
    ),
    forbid(
      'Routes are the top of a room: only the list of their wing and the app import them.',
      { path: '^apps/api/src/', pathNot: [test, '^apps/api/src/(app|[a-z]+/routes)\\.ts$'] },
      { path: '/[a-z-]*routes\\.ts$' },
    ),
    forbid(
      'Queries are the bottom of a room: they import no use case and no route of it.',
      { path: `${room}[a-z-]*queries\\.ts$` },
      { path: '^apps/api/src/$1/', pathNot: '/[a-z-]*queries\\.ts$' },
    ),
    forbid(
      'A room is imported through its index.ts.',
      { path: '^apps/api/src/', pathNot: [test, room, '^apps/api/src/(app|[a-z]+/routes)\\.ts$'] },
      { path: room, pathNot: '/index\\.ts$' },
    ),
    forbid(
      'A room imports another through its index.ts.',
      { path: room, pathNot: test },
      { path: room, pathNot: ['^apps/api/src/$1/', '/index\\.ts$'] },
    ),
    ...['apps/api/src', 'packages/contracts/src'].flatMap((src) =>
      ['kernel', ...wings.slice(0, -1)].map((wing, index) =>
        forbid(
          `${wing} of ${src} imports no wing above it.`,
          { path: inWing([wing], src), pathNot: test },
          { path: inWing(wings.slice(index), src) },
        ),
      ),
    ),
    forbid(
      'The floor carries the wings: db, http, kernel, documents and plugins import none but people and audit.',
      { path: '^apps/api/src/(db|http|kernel|documents)/', pathNot: test },
      { path: inWing(wings) },
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
