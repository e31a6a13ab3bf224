import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeEach, expect, test } from 'vitest';
import { until } from './service.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'huelot-builds-'));
afterAll(() => rmSync(folder, { recursive: true }));

const module = pathToFileURL(path.resolve(import.meta.dirname, '../../deploy/one-at-a-time.mjs')).href;
let place = '';
let log = '';
let count = 0;
beforeEach(() => {
  count += 1;
  place = path.join(folder, `build-${count}`);
  log = path.join(folder, `log-${count}`);
});

/** A process that builds, as far as this is about: it says when it begins and when it is done. */
function build(lastsMs: number): ChildProcess {
  const program = `
    import { appendFileSync } from 'node:fs';
    import { setTimeout as sleep } from 'node:timers/promises';
    import { oneAtATime } from ${JSON.stringify(module)};
    await oneAtATime(${JSON.stringify(place)}, async () => {
      appendFileSync(${JSON.stringify(log)}, 'in\\n');
      await sleep(${lastsMs});
      appendFileSync(${JSON.stringify(log)}, 'out\\n');
    });`;
  return spawn(process.execPath, ['--input-type=module', '-e', program], { stdio: 'inherit' });
}
const said = () => (existsSync(log) ? readFileSync(log, 'utf8').trim().split('\n') : []);
const exitOf = async (child: ChildProcess) => (await once(child, 'exit'))[0] as number | null;

test('builds that meet are done one after the other', async () => {
  const codes = await Promise.all([build(300), build(300), build(300)].map(exitOf));
  expect(codes).toEqual([0, 0, 0]);
  expect(said()).toEqual(['in', 'out', 'in', 'out', 'in', 'out']);
});

test('a build that was killed keeps nobody waiting for ever', async () => {
  const killed = build(600_000);
  await until(() => said().length === 1);
  killed.kill('SIGKILL');
  expect(await exitOf(build(1))).toBe(0);
  expect(said()).toEqual(['in', 'in', 'out']);
});
