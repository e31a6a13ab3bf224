import { expect, test, vi } from 'vitest';
import { newKey } from './new-key.ts';

test('a tablet over plain HTTP got a blank page, because it has no randomUUID', () => {
  vi.stubGlobal('crypto', { getRandomValues: crypto.getRandomValues.bind(crypto) });
  try {
    const keys = Array.from({ length: 100 }, newKey);
    expect(new Set(keys).size).toBe(100);
    for (const key of keys) expect(key).toMatch(/^[0-9a-f]{32}$/);
  } finally {
    vi.unstubAllGlobals();
  }
});
