import { describe, expect, it } from 'vitest';
import { mainLine, ok, post } from '../support/main-line.ts';

const { db, estimator, planner, sentQuotation } = await mainLine();

interface Shown {
  id: number;
  number: string;
  version: number;
  shown: { revision: number; status: string };
  revisions: { revision: number; status: string }[];
}
interface Row {
  id: number;
  revision: number;
  status: string;
  issued: { revision: number; status: string } | null;
}
const discard = ({ id, version }: Shown, who = estimator) =>
  who({ method: 'DELETE', url: `/api/quotations/${id}/draft`, headers: { 'if-match': `"${version}"` } });
const rowOf = async ({ id }: Shown, query = '') => {
  const { items } = await ok<{ items: Row[] }>(estimator({ url: `/api/quotations?limit=200${query}` }));
  return items.find((row) => row.id === id);
};

describe('a draft of a quotation that nobody could get rid of', () => {
  it('hid the sent revision: the list says both, and the filter finds it by either', async () => {
    const sent = await sentQuotation();
    await ok(post(estimator, `/quotations/${sent.id}/revise`, {}), 201);
    expect(await rowOf(sent)).toMatchObject({
      revision: 2,
      status: 'draft',
      issued: { revision: 1, status: 'sent' },
    });
    expect(await rowOf(sent, '&status=sent')).toBeDefined();
    expect(await rowOf(sent, '&status=draft')).toBeDefined();
    expect(await rowOf(sent, '&status=declined')).toBeUndefined();
  });

  it('is discarded: the sent revision is the last again, and the history says what was in it', async () => {
    const sent = await sentQuotation();
    const draft = await ok<Shown>(post(estimator, `/quotations/${sent.id}/revise`, {}), 201);
    expect(await ok(discard(draft))).toEqual({ revisionsLeft: 1 });
    const left = await ok<Shown>(estimator({ url: `/api/quotations/${sent.id}` }));
    expect(left.shown).toMatchObject({ revision: 1, status: 'sent' });
    const entry = await db.prisma.auditEntry.findFirstOrThrow({
      where: { recordKind: 'quotation', recordId: sent.id },
      orderBy: { id: 'desc' },
    });
    expect(entry.action).toBe('discarded the draft of revision 2');
    expect(entry.changes).not.toEqual([]);
  });

  it('takes the quotation with it where it was all there was; the number is not given again', async () => {
    const sent = await sentQuotation();
    const copy = await ok<Shown>(post(estimator, `/quotations/${sent.id}/copy`, {}), 201);
    expect(await ok(discard(copy))).toEqual({ revisionsLeft: 0 });
    expect((await estimator({ url: `/api/quotations/${copy.id}` })).statusCode).toBe(404);
    const next = await ok<Shown>(post(estimator, `/quotations/${sent.id}/copy`, {}), 201);
    expect(next.number > copy.number).toBe(true);
  });

  it('is not discarded from an old view, nor by who may not write, nor when it was sent', async () => {
    const sent = await sentQuotation();
    const draft = await ok<Shown>(post(estimator, `/quotations/${sent.id}/revise`, {}), 201);
    expect((await discard({ ...draft, version: draft.version + 1 })).statusCode).toBe(412);
    expect((await discard(draft, planner)).statusCode).toBe(403);
    await ok(discard(draft));
    const now = await ok<Shown>(estimator({ url: `/api/quotations/${sent.id}` }));
    expect((await discard(now)).statusCode).toBe(409);
  });
});
