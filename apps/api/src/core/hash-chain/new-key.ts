import { withSqlTransaction, type Db } from '../../db/client.ts';
import { digestOfContent, digestOfLink, beginning } from './digests.ts';
import type { ChainKeys } from './keys.ts';
import { addForm, addLinks, lockChain, readForms, readHead, readNow } from './link-queries.ts';
import { newKey } from './verify-batch.ts';

/** Makes the entry with which the newest key takes over from the one before, or from one that is lost. */
export const beginNewKey = (db: Db, keys: ChainKeys): Promise<void> =>
  withSqlTransaction(db, async (execute) => {
    await lockChain(execute, { wait: true });
    const key = keys.byId.get(keys.newestId);
    if (key === undefined) throw new Error('there is no key for the chain');
    const head = await readHead(execute);
    const form =
      (await readForms(execute)).find(({ tableName }) => tableName === newKey.tableName) ??
      (await addForm(execute, { ...newKey, columns: [] }));
    const position = (head?.position ?? 0) + 1;
    const link = {
      ...{
        ...newKey,
        position,
        formId: form.id,
        recordId: String(position),
        linkedAt: await readNow(execute),
      },
      keyId: keys.newestId,
      contentDigest: digestOfContent(key, { ...form, content: head?.keyId ?? '' }),
    };
    await addLinks(execute, [{ ...link, digest: digestOfLink(key, head?.digest ?? beginning, link) }]);
  });
