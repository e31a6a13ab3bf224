import path from 'node:path';
import { issueFirstAdminCode } from '../core/people/index.ts';
import { root } from './root.ts';
import { serve } from './serve.ts';

/** The service for real use: empty at first, and waiting for its first administrator. */
await serve({
  dataDir: path.join(root, '.huelot', 'shop'),
  welcome: async (db, { publicUrl }) => {
    const code = await issueFirstAdminCode(db);
    if (code === null) return [];
    const words = `Nobody can sign in yet. Open ${publicUrl} and enter this code to become the first administrator:`;
    return ['', words, '', `    ${code}`, ''];
  },
});
