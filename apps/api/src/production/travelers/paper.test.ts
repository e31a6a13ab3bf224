import type { LotSummary } from '@huelot/contracts';
import { expect, it } from 'vitest';
import { mainLine, ok, post } from '../../../../../tests/support/main-line.ts';
import { readPdf } from '../../../../../tests/support/pdf.ts';

const { planner, quality, releasedLots, signAll } = await mainLine();

it('the traveler of a finished lot was printed again with an empty final check', async () => {
  const [lot] = (await releasedLots()) as [LotSummary];
  const { id } = await signAll(lot.id);
  const print = async () => (await planner({ url: `/api/travelers/${id}/pdf` })).rawPayload;
  const textOf = async (bytes: Buffer) => (await readPdf(bytes)).map(({ text }) => text).join(' ');
  const before = await print();
  expect(await textOf(before)).not.toContain('powdery at the rim');
  const check = {
    acceptedCount: 22,
    rejectedCount: 2,
    reworkCount: 0,
    reason: 'powdery at the rim',
    notes: '',
  };
  await ok(post(quality, `/lots/${lot.id}/final-check`, check), 201);
  const after = await print();
  expect(await textOf(after)).toMatch(/Accepted 22.*Rejected, why 2, powdery at the rim.*Checked by quality/);
  // What was printed before stays as it was, and the new print is the same for everybody.
  expect((await planner({ url: `/api/travelers/${id}/papers/2/pdf` })).rawPayload.equals(before)).toBe(true);
  expect((await print()).equals(after)).toBe(true);
});
