import { spawnSync } from 'node:child_process';
import { readFileSync, statSync } from 'node:fs';

/** The account the database server runs as: an empty object means the one we run as ourselves. */
export interface Account {
  uid?: number;
  gid?: number;
}

/** Accounts that systems keep for services, the best suited first. */
const candidates = ['huelot', 'postgres', '_postgres', 'nobody', 'daemon'];

/**
 * PostgreSQL refuses to run as root, so root hands it to an unprivileged account: the owner of the data there is,
 * else the first service account that the system has.
 */
export function serverAccount(existingData: string | null): Account {
  if (process.getuid?.() !== 0) return {};
  if (existingData !== null) {
    const { uid, gid } = statSync(existingData);
    if (uid !== 0) return { uid, gid };
  }
  const accounts = readFileSync('/etc/passwd', 'utf8')
    .split('\n')
    .map((line) => line.split(':'));
  for (const name of candidates) {
    const [, , uid, gid] = accounts.find((fields) => fields[0] === name) ?? [];
    if (uid !== undefined && gid !== undefined) return { uid: Number(uid), gid: Number(gid) };
  }
  throw new Error(
    `PostgreSQL does not run as root, and this system has none of the accounts ${candidates.join(', ')}. ` +
      'Add one (useradd --system huelot), run Huelot as an ordinary user, or set DATABASE_URL.',
  );
}

/** Whether `account` can enter `folder`, asked of the system itself so that every rule it has counts. */
export function canEnter(account: Account, folder: string): boolean {
  return (
    spawnSync('/bin/sh', ['-c', 'cd -- "$1"', 'sh', folder], { ...account, cwd: '/', stdio: 'ignore' })
      .status === 0
  );
}
