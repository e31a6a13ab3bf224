import { randomBytes } from 'node:crypto';
import { secretBox } from '../../apps/api/src/kernel/secret-box.ts';

/** Seals with a key that nobody has after the run. */
export const testSecrets = secretBox(randomBytes(32));
