import { spawnSync } from 'node:child_process';
import { root, runQuietly } from '../../deploy/run-quietly.mjs';
import { browserPath } from './browser-path.mjs';

/** Makes sure that there is a Chromium to test with: the system's, else from its package archive, else Playwright's. */
export async function installBrowser() {
  if (browserPath() !== null) return;
  const troubles = [];
  for (const install of [fromPackageArchive, fromPlaywright]) {
    await install().catch((error) => troubles.push(error.message));
    if (browserPath() !== null) return;
  }
  throw new Error(
    `There is no Chromium, and installing one failed:\n${troubles.join('\n')}\n` +
      'Install the package chromium of your system, or Google Chrome, and run npm test again.',
  );
}

async function fromPackageArchive() {
  if (process.getuid?.() !== 0 || process.platform !== 'linux')
    throw new Error('Only root installs system packages.');
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  for (const args of [['update'], ['install', '-y', '--no-install-recommends', 'chromium']]) {
    const { status, stderr, error } = spawnSync('apt-get', args, { env, encoding: 'utf8' });
    if (status !== 0) throw new Error(error?.message ?? stderr.trim());
  }
}

async function fromPlaywright() {
  const withSystemLibraries = process.getuid?.() === 0 ? ['--with-deps'] : [];
  await runQuietly('node_modules/playwright-core/cli.js', {
    args: ['install', ...withSystemLibraries, 'chromium'],
    folder: root,
  });
}
