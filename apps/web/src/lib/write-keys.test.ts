import { expect, test, vi } from 'vitest';
import { ApiProblem } from './problem.ts';
import { withKey } from './write-keys.ts';

const problem = (code: ApiProblem['code'], status = 0) => new ApiProblem({ code, status, detail: code });

/** The keys under which words were sent, each send ending as told. */
async function keysOf(sends: [words: string, outcome: 'done' | ApiProblem][]): Promise<string[]> {
  const keys: string[] = [];
  for (const [words, outcome] of sends) {
    const sent = withKey({ words }, (key) => {
      keys.push(key);
      return outcome === 'done' ? Promise.resolve('done') : Promise.reject(outcome);
    });
    await sent.catch(() => undefined);
  }
  return keys;
}

test.each([
  ['offline', 0],
  ['unavailable', 503],
  ['internal', 500],
  ['unreadable', 200],
] as const)('a form sent again after %s was booked twice', async (code, status) => {
  const words = `POST /orders ${code}`;
  const [first, again] = await keysOf([
    [words, problem(code, status)],
    [words, 'done'],
  ]);
  expect(first).toMatch(/^[0-9a-f]{32}$/);
  expect(again).toBe(first);
});

test('what was edited, or was answered, went out under the key of the earlier write', async () => {
  const keys = await keysOf([
    ['POST /orders one', problem('offline')],
    ['POST /orders two', 'done'],
    ['POST /orders two', 'done'],
    ['POST /orders three', problem('invalid-input', 422)],
    ['POST /orders three', 'done'],
  ]);
  expect(new Set(keys).size).toBe(keys.length);
});

test('a double click was refused because the first click was under way', async () => {
  vi.useFakeTimers();
  try {
    const send = vi
      .fn<(key: string) => Promise<string>>()
      .mockRejectedValueOnce(problem('in-progress', 409))
      .mockResolvedValue('done');
    const sent = withKey({ words: 'twice' }, send);
    await vi.advanceTimersByTimeAsync(1000);
    expect(await sent).toBe('done');
    expect(new Set(send.mock.calls.map(([key]) => key)).size).toBe(1);
  } finally {
    vi.useRealTimers();
  }
});

test('a key that is kept elsewhere was replaced', async () => {
  const send = vi.fn<(key: string) => Promise<string>>().mockResolvedValue('done');
  await withKey({ words: 'x', key: 'kept-on-the-tablet' }, send);
  expect(send).toHaveBeenCalledWith('kept-on-the-tablet');
});
