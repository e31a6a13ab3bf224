import {
  chmodSync,
  chownSync,
  existsSync,
  lstatSync,
  mkdirSync,
  mkdtempSync,
  realpathSync,
  renameSync,
  rmdirSync,
  symlinkSync,
} from 'node:fs';
import path from 'node:path';
import { canEnter, serverAccount, type Account } from './account.ts';

/** Where everything of one embedded database lies. */
export interface Place {
  /** The folder that holds the rest; it belongs to `account` alone. */
  home: string;
  /** What PostgreSQL calls its data directory. */
  cluster: string;
  password: string;
  /** Of the role that the service works as. */
  servicePassword: string;
  log: string;
  /** Where a copy of the programs may go. */
  shelf: string;
  account: Account;
}

/** Where root keeps the database of a data folder that the server's account cannot enter. */
const outside = '/var/lib/huelot';

/**
 * Finds or makes the place of the database that belongs to `dataDir`: the folder `database` in it. Where only root
 * can enter `dataDir`, that is a link to a folder below `/var/lib/huelot`.
 */
export function openPlace(dataDir: string): Place {
  if (process.platform === 'win32') {
    throw new Error(
      'the embedded database needs Linux or macOS. Here use WSL, a container, or DATABASE_URL.',
    );
  }
  try {
    return findPlace(dataDir);
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    if (code !== 'EACCES' && code !== 'EPERM' && code !== 'EROFS') throw error;
    throw new Error(
      `this account may not use the data folder ${dataDir} (${message}). Run Huelot as its owner, or choose another with HUELOT_DATA_DIR.`,
      { cause: error },
    );
  }
}

function findPlace(dataDir: string): Place {
  makeFolder(dataDir, process.getuid?.() === 0 ? 0o711 : 0o700);
  const entry = path.join(dataDir, 'database');
  const exists = lstatSync(entry, { throwIfNoEntry: false }) !== undefined;
  if (exists && !existsSync(entry)) {
    throw new Error(
      `${entry} is a link to a folder that is gone. Bring that folder back, or start with another data folder.`,
    );
  }
  const account = serverAccount(exists ? realpathSync(entry) : null);
  if (!exists) makeHome(entry, account);
  const home = realpathSync(entry);
  if (!canEnter(account, home)) {
    throw new Error(
      account.uid === undefined
        ? `this account may not use ${home}. Run Huelot as its owner, or choose another data folder with HUELOT_DATA_DIR.`
        : `the account with number ${account.uid}, which PostgreSQL runs as, cannot enter ${home}. ` +
            'Open the folders above it to that account (chmod o+x), or choose another data folder with HUELOT_DATA_DIR.',
    );
  }
  return {
    home,
    cluster: path.join(home, 'cluster'),
    password: path.join(home, 'password'),
    servicePassword: path.join(home, 'service-password'),
    log: path.join(home, 'postgresql.log'),
    shelf: account.uid === undefined ? home : outside,
    account,
  };
}

/** Makes it aside and puts it in place when it is right, since another start may do the same at that moment. */
function makeHome(entry: string, account: Account): void {
  const dataDir = path.dirname(entry);
  const isInside = canEnter(account, dataDir);
  if (!isInside) makeFolder(outside, 0o711);
  const home = mkdtempSync(isInside ? `${entry}-` : path.join(outside, `${path.basename(dataDir)}-`));
  chownTo(home, account);
  try {
    if (isInside) renameSync(home, entry);
    else symlinkSync(home, entry);
  } catch (error) {
    rmdirSync(home);
    if (!existsSync(entry)) throw error;
  }
}

/** Makes a folder and those above it that are missing, with this mode whatever the umask says. */
function makeFolder(folder: string, mode: number): void {
  const first = mkdirSync(folder, { recursive: true });
  if (first === undefined) return;
  for (let at = folder; at.length >= first.length; at = path.dirname(at)) chmodSync(at, mode);
}

/** Hands a file or folder to the account that the server runs as. */
export function chownTo(entry: string, { uid, gid }: Account): void {
  if (uid !== undefined && gid !== undefined) chownSync(entry, uid, gid);
}
