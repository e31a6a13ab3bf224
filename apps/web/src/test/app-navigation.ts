import { onDestroy } from 'svelte';
import { vi } from 'vitest';

interface Navigation {
  type: 'leave';
  cancel: () => void;
}
type Guard = (navigation: Navigation) => void;
const guards = new Set<Guard>();

/** Stands in for `$app/navigation` where components run without SvelteKit. */
export const goto = vi.fn<(url: string | URL) => Promise<void>>(() => Promise.resolve());
export const replaceState = vi.fn();

export function beforeNavigate(guard: Guard): void {
  guards.add(guard);
  onDestroy(() => guards.delete(guard));
}

/** Closes the tab as far as components are asked; whether none held it back. */
export function closeTab(): boolean {
  const cancel = vi.fn();
  for (const guard of guards) guard({ type: 'leave', cancel });
  return cancel.mock.calls.length === 0;
}
