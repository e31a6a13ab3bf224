import '../deploy/node-version.mjs';

const { readOptions } = await import('../deploy/arguments.mjs');
const options = readOptions({
  usage: `npm test
npm run test:nightly

Installs what is missing, the browser included, then checks and tests the project. Slow proofs, named in
tests/support/nightly.ts, wait for the nightly command, which runs everything.
To run one file again: HUELOT_NIGHTLY=yes npx vitest run path/to/file`,
  allowed: ['--nightly'],
});
if (options.has('--nightly')) process.env.HUELOT_NIGHTLY = 'yes';

const { orSay, prepareClient } = await import('../deploy/prepare.mjs');
await orSay(prepareClient);

const { installBrowser } = await import('./support/install-browser.mjs');
const { check } = await import('./support/check.mjs');
const { runTests } = await import('./support/run-tests.mjs');

const tool = (name, args) => ({ program: `node_modules/${name}`, args });

/** Two checks at a time, the next as soon as one is done. The long ones come first. */
async function twoAtATime(checks) {
  const waiting = checks.values();
  const results = [];
  const one = async () => {
    for (const [title, work] of waiting) results.push(await check(title, work));
  };
  await Promise.all([one(), one()]);
  return results;
}

const results = [
  await check('browser', installBrowser),
  // First, because it writes what the linter of the pages reads.
  await check('types of pages', { program: 'tests/support/check-pages.mjs', args: [] }),
  ...(await twoAtATime([
    ['lint', tool('eslint/bin/eslint.js', ['.', '--ignore-pattern', 'apps/web'])],
    // A process of its own: over everything at once the linter needs more memory than Node gives it.
    ['lint of pages', tool('eslint/bin/eslint.js', ['apps/web'])],
    ['formatting', tool('prettier/bin/prettier.cjs', ['--check', '--log-level', 'warn', '.'])],
    ['types', tool('typescript/bin/tsc', ['-p', 'tsconfig.json'])],
    ['build', { program: 'deploy/build.mjs', args: [] }],
    ['import directions', { program: 'tests/boundaries.mjs', args: [] }],
    ['types of calc alone', tool('typescript/bin/tsc', ['-p', 'packages/calc/tsconfig.json', '--noEmit'])],
  ])),
  // What people do in a browser and what breaks under load run alone, so that nothing but themselves slows them.
  await runTests('unit, database and API tests', ['calc', 'contracts', 'web', 'docs', 'api']),
  await runTests('browser tests', ['journeys']),
  await runTests('fault tests', ['faults']),
];

const sum = (key) => results.reduce((total, result) => total + result[key], 0);
console.log(`\n${sum('passed')} passed, ${sum('failed')} failed`);
process.exit(sum('failed') === 0 ? 0 : 1);
