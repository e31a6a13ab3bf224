import { Readable } from 'node:stream';
import type { Db } from '../db/client.ts';
import { closeDocument, heading, openDocument, write } from '../documents/page-parts.ts';
import { keepFile } from '../core/files/index.ts';
import type { Actor } from '../kernel/actor.ts';

/**
 * Keeps a stand-in where a shop keeps the supplier's safety data sheet, and gives its file. It says nothing about the chemical:
 * an invented sheet could be believed.
 */
export async function keepSafetySheet(
  db: Db,
  { actor, chemical, supplier, madeAt }: { actor: Actor; chemical: string; supplier: string; madeAt: Date },
): Promise<number> {
  const sheet = {
    title: `Where the safety data sheet of ${chemical} goes`,
    author: supplier,
    foot: 'Stand-in of the demo. Not a safety data sheet.',
    madeAt,
  };
  const doc = openDocument(sheet);
  heading(doc, `Safety data sheet: ${chemical}`);
  write(
    doc,
    'This is not a safety data sheet. It stands where a shop keeps the sheet that came with the chemical: the current one of its supplier, in the language of the people who work with it.',
    { gap: 8 },
  );
  write(
    doc,
    'The sheet of the supplier, the local code and trained people decide how the chemical is handled.',
  );
  const content = Readable.from([await closeDocument(doc, sheet)]);
  return (await keepFile(db, { actor, name: `SDS ${chemical}.pdf`, content, isCut: () => false })).id;
}
