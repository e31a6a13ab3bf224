import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { runQuietly } from '../../deploy/run-quietly.mjs';
import { report } from './check.mjs';

/** Runs the tests of some Vitest projects. A test that is skipped, or a file that does not load, counts as failed. */
export async function runTests(title, projects) {
  const began = Date.now();
  const folder = mkdtempSync(path.join(tmpdir(), 'huelot-results-'));
  const file = path.join(folder, 'results.json');
  let words = '';
  try {
    await runQuietly('node_modules/vitest/vitest.mjs', {
      args: [
        'run',
        ...projects.flatMap((project) => ['--project', project]),
        ...['--reporter', 'dot', '--reporter', 'json', '--outputFile.json', file],
      ],
    });
  } catch (error) {
    words = error.message;
  }
  const { passed, failed } = count(file, words);
  rmSync(folder, { recursive: true });
  report(failed === 0 ? 'passed' : 'FAILED', {
    title: `${title}: ${passed} passed, ${failed} failed`,
    began,
  });
  if (words !== '') console.log(`\n${words}\n`);
  return { passed, failed };
}

function count(file, words) {
  let results;
  try {
    results = JSON.parse(readFileSync(file, 'utf8'));
  } catch {
    return { passed: 0, failed: 1 };
  }
  const filesThatBroke = results.testResults.filter(
    ({ status, assertionResults }) =>
      status === 'failed' && !assertionResults.some((test) => test.status === 'failed'),
  );
  const failed = results.numTotalTests - results.numPassedTests + filesThatBroke.length;
  // Vitest also ends badly over an error outside of any test.
  return { passed: results.numPassedTests, failed: failed === 0 && words !== '' ? 1 : failed };
}
