// @vitest-environment jsdom
import { sentAtHeader, signedInCookie } from '@huelot/contracts';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { page } from '../../../test/app-state.ts';
import { keepSending, outbox } from './outbox.ts';
import type { SignOffBody } from './queue.svelte.ts';

const STORED = 'huelot.tankside.outbox';
const body: SignOffBody = {
  doneAt: '2026-11-29T02:47:00.000Z',
  countIn: 24,
  countOut: 24,
  rejectCount: 0,
  readings: [],
  reason: '',
  note: '',
  tankId: null,
  supplyId: null,
  signer: null,
};
const stored = () => JSON.parse(localStorage.getItem(STORED) ?? '[]') as { key: string; stepId: number }[];
const refusedWith = (status: number, code: string) =>
  Response.json({ type: 'about:blank', title: code, code, status, detail: code, issues: [] }, { status });

const network = vi.fn<(url: string, request: RequestInit) => Promise<Response>>();
const requests = () =>
  network.mock.calls.map(([url, { headers }]) => ({
    url,
    key: new Headers(headers).get('idempotency-key'),
    sentAt: new Headers(headers).get(sentAtHeader),
  }));

beforeEach(() => {
  page.data = { me: { person: { id: 7 } } };
  document.cookie = `${signedInCookie}=1`;
  vi.stubGlobal('fetch', network);
  network.mockReset().mockRejectedValue(new TypeError('no network'));
});
afterEach(() => {
  vi.unstubAllGlobals();
  localStorage.clear();
  outbox.reload();
  page.data = {};
});

const sign = (stepId: number) =>
  outbox.add({ kind: 'sign', personId: 7, person: 'Omar', lotId: 1, stepId, title: 'Anodise', body });

describe('the outbox of a tablet', () => {
  it('writes a sign-off down before the network has it, and sends it with the same key when it is back', async () => {
    expect(await sign(2)).toBeNull();
    const [waiting] = stored();
    expect(waiting).toMatchObject({ stepId: 2 });

    const stop = keepSending();
    network.mockReset().mockImplementation(() => Promise.resolve(refusedWith(503, 'unavailable')));
    dispatchEvent(new Event('online'));
    await vi.waitFor(() => expect(requests().at(-1)?.url).toMatch(/\/steps\/2\/sign-off$/));
    stop();
    expect(requests().at(-1)?.key).toBe(waiting?.key);
    expect(requests().at(-1)?.sentAt).not.toBeNull();
    expect(stored()).toHaveLength(1);
  });

  it('hands what the rules refuse over to quality under a key of its own', async () => {
    await sign(3);
    const [waiting] = stored();
    network
      .mockReset()
      .mockImplementation((url) =>
        Promise.resolve(
          url.endsWith('/sign-off') ? refusedWith(409, 'on-hold') : refusedWith(503, 'unavailable'),
        ),
      );
    await outbox.flush();
    expect(requests().at(-1)).toMatchObject({ key: `${waiting?.key}-parked` });
    expect(stored()).toHaveLength(1);
  });

  it('takes up what another tab of this tablet wrote', async () => {
    await sign(4);
    const other = stored();
    localStorage.setItem(STORED, '[]');
    outbox.reload();
    expect(outbox.items).toEqual([]);
    const stop = keepSending();
    localStorage.setItem(STORED, JSON.stringify(other));
    dispatchEvent(new StorageEvent('storage', { key: STORED }));
    expect(outbox.ofLot(1)).toHaveLength(1);
    stop();
  });
});
