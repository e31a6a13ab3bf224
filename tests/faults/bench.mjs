import '../../deploy/node-version.mjs';
import { spawn } from 'node:child_process';
import path from 'node:path';
import { parseArgs } from 'node:util';

const usage = `npm run bench:faults [-- OPTIONS]

Breaks the built service on purpose and counts what that costs. The same tests run short in npm test.

  --service-kills N      kills of the service under a write load        (300)
  --database-mishaps N   kills, stops and cuts of its database          (100)
  --malformed N          malformed requests from the OpenAPI document   (100000)
  --seed N               what chance starts from                        (4070)`;

/** Each option with the setting that the tests read. */
const settings = {
  'service-kills': ['HUELOT_BENCH_SERVICE_KILLS', '300'],
  'database-mishaps': ['HUELOT_BENCH_DATABASE_MISHAPS', '100'],
  malformed: ['HUELOT_BENCH_MALFORMED', '100000'],
  seed: ['HUELOT_BENCH_SEED', '4070'],
};

function readSize() {
  try {
    const sizes = Object.entries(settings).map(([name, [, unless]]) => [
      name,
      { type: 'string', default: unless },
    ]);
    return parseArgs({ options: { help: { type: 'boolean' }, ...Object.fromEntries(sizes) } }).values;
  } catch (error) {
    console.error(`${error.message}\n\n${usage}`);
    process.exit(2);
  }
}

const size = readSize();
if (size.help) {
  console.log(usage);
  process.exit(0);
}
const env = Object.fromEntries(Object.entries(settings).map(([name, [setting]]) => [setting, size[name]]));
const tests = ['under-load', 'malformed', 'two-services'];
const child = spawn(
  process.execPath,
  [
    'node_modules/vitest/vitest.mjs',
    'run',
    // Before the flags: the last of these takes what follows it for its value.
    ...tests.map((name) => `tests/faults/${name}.test.ts`),
    ...['--project', 'faults', '--maxWorkers', '1', '--disable-console-intercept'],
  ],
  {
    cwd: path.resolve(import.meta.dirname, '../..'),
    env: { ...process.env, ...env, HUELOT_BENCH: 'yes' },
    stdio: 'inherit',
  },
);
child.on('exit', (code) => process.exit(code ?? 1));
