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
  const { passed, failed, slowest } = count(file, words);
  rmSync(folder, { recursive: true });
  report(failed === 0 ? 'passed' : 'FAILED', {
    title: `${title}: ${passed} passed, ${failed} failed`,
    began,
  });
  if (slowest !== '') console.log(`  slowest files: ${slowest}`);
  if (words !== '') console.log(`\n${words}\n`);
  return { passed, failed };
}

function count(file, words) {
  let results;
  try {
    results = JSON.parse(readFileSync(file, 'utf8'));
  } catch {
    return { passed: 0, failed: 1, slowest: '' };
  }
  const filesThatBroke = results.testResults.filter(
    ({ status, assertionResults }) =>
      status === 'failed' && !assertionResults.some((test) => test.status === 'failed'),
  );
  const failed = results.numTotalTests - results.numPassedTests + filesThatBroke.length;
  // Vitest also ends badly over an error outside of any test.
  return {
    passed: results.numPassedTests,
    failed: failed === 0 && words !== '' ? 1 : failed,
    slowest: slowestOf(results.testResults),
  };
}

/** Where the time goes, so that a test that grows slow is seen before the whole run is. */
function slowestOf(files) {
  return files
    .map(({ name, startTime, endTime }) => ({ name: path.basename(name), s: (endTime - startTime) / 1000 }))
    .sort((one, other) => other.s - one.s)
    .slice(0, 8)
    .map(({ name, s }) => `${name} ${s.toFixed(0)} s`)
    .join(', ');
}
