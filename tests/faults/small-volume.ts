import { execFileSync } from 'node:child_process';
import { chmodSync, mkdtempSync, rmSync, statfsSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { onTestFinished } from 'vitest';

/** A disk of its own that is small enough to be filled. */
export interface SmallVolume {
  folder: string;
  /** Takes all the room there is left but `kilobytes`. */
  fill: (kilobytes?: number) => void;
  makeRoom: () => void;
}

/**
 * Mounts a volume of that many megabytes in memory until the test ends. That takes root: without it this throws and says so, because a
 * full disk cannot be tried honestly in another way.
 */
export function mountSmallVolume(megabytes: number): SmallVolume {
  const folder = mkdtempSync(path.join(tmpdir(), 'huelot-small-'));
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${megabytes}m`, 'tmpfs', folder], { stdio: 'pipe' });
  } catch (cause) {
    rmSync(folder, { recursive: true });
    throw new Error(
      'A full disk is tried on a small volume, which only root can mount. Run this as root, in a container that may mount (CAP_SYS_ADMIN).',
      { cause },
    );
  }
  chmodSync(folder, 0o755);
  onTestFinished(() => {
    execFileSync('umount', ['--lazy', folder], { stdio: 'pipe' });
    rmSync(folder, { recursive: true, force: true });
  });
  const filler = path.join(folder, 'filler');
  return {
    folder,
    fill: (kilobytes = 0) => {
      const { bavail, bsize } = statfsSync(folder);
      try {
        writeFileSync(filler, Buffer.alloc(Math.max(0, bavail * bsize - kilobytes * 1024)));
      } catch (error) {
        // The database wrote in between: the disk is full, as it was to be.
        if ((error as NodeJS.ErrnoException).code !== 'ENOSPC') throw error;
      }
    },
    makeRoom: () => rmSync(filler, { force: true }),
  };
}
