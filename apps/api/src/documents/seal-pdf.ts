import type { ChainSeal } from '@huelot/contracts';
import { instantText } from './figures.ts';
import { closeDocument, facts, filmStrip, heading, inks, openDocument, write } from './page-parts.ts';

interface Asked {
  seal: ChainSeal;
  shopName: string;
  timeZone: string;
  publicUrl: string;
}

/** A seal on paper: what to keep where nobody who runs the server can change it, and how to compare it. */
export async function sealPdf(options: Asked): Promise<Buffer> {
  const { seal, shopName, timeZone } = options;
  const sheet = {
    title: `Seal of the record, entry ${seal.position}`,
    author: shopName,
    foot: `${shopName} · sealed ${instantText(seal.sealedAt, timeZone)} by ${seal.sealedBy}`,
    madeAt: new Date(seal.sealedAt),
  };
  const doc = openDocument(sheet);
  filmStrip(doc);
  write(doc, shopName, { size: 9, colour: inks.soft, gap: 0 });
  write(doc, 'Seal of the record', { face: 'strong', size: 20, gap: 8 });
  write(
    doc,
    'Everything that was written in the audit trail and issued up to this entry stands behind the digest below. Keep this page where nobody who runs the server can change it.',
    { gap: 8 },
  );
  facts(doc, [
    ['Sealed', instantText(new Date(seal.sealedAt), timeZone)],
    ['By', seal.sealedBy],
    ['Entries of the chain', String(seal.position)],
    ['Record', options.publicUrl],
  ]);
  heading(doc, 'Seal');
  write(doc, seal.text, { face: 'figure', size: 10.5, gap: 4 });
  write(doc, 'The same digest in groups, for typing:', { size: 9, colour: inks.soft, gap: 2 });
  const groups = seal.digest.match(/.{1,8}/g) ?? [];
  write(doc, `${seal.position} -\n${groups.slice(0, 4).join(' ')}\n${groups.slice(4).join(' ')}`, {
    face: 'figure',
    size: 10.5,
    gap: 8,
  });
  heading(doc, 'How to compare');
  write(
    doc,
    'In Huelot open “Chain of the record” (from the audit trail), give this seal and check; or on the server run “npm run verify -- SEAL”. A record in which anything before this entry was altered, removed or written anew does not agree with it, even where whoever did it held the key of the chain.',
  );
  return closeDocument(doc, sheet);
}
