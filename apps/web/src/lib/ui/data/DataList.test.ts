// @vitest-environment jsdom
import { cleanup, fireEvent, render, screen, waitFor, within } from '@testing-library/svelte';
import { createRawSnippet } from 'svelte';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { goto } from '../../../test/app-navigation.ts';
import { page } from '../../../test/app-state.ts';
import DataList from './DataList.svelte';

interface Part {
  id: number;
  name: string;
}
const part = (id: number): Part => ({ id, name: `Part ${id}` });
const row = createRawSnippet<[Part]>((item) => ({
  render: () => `<td><a class="row-link" href="/parts/${item().id}">${item().name}</a></td>`,
}));
const empty = createRawSnippet(() => ({ render: () => '<p>No parts yet</p>' }));
const columns = [{ label: 'Name', sort: 'name' }];

interface Page {
  items: Part[];
  next: string | null;
}
const list = (first: Page, more?: (after: string) => Promise<Page>) =>
  render(DataList<Part>, { label: 'Parts', columns, first, row, empty, ...(more ? { more } : {}) });
const names = () => screen.queryAllByRole('link').map(({ textContent }) => textContent);

beforeEach(() => {
  page.url = new URL('http://localhost/parts');
  page.state = {};
  goto.mockClear();
});
afterEach(cleanup);

describe('a list of parts', () => {
  it('reads on from where it ended, and shows what came twice once', async () => {
    const more = vi.fn((_after: string) => Promise.resolve({ items: [part(2), part(3)], next: null }));
    list({ items: [part(1), part(2)], next: 'cursor-2' }, more);
    expect(screen.getByRole('status').textContent).toContain('2 shown, there are more');
    await fireEvent.click(screen.getByRole('button', { name: 'Show more' }));
    await waitFor(() => expect(names()).toEqual(['Part 1', 'Part 2', 'Part 3']));
    expect(more).toHaveBeenCalledExactlyOnceWith('cursor-2');
    expect(screen.queryByRole('button', { name: 'Show more' })).toBeNull();
  });

  it('tells an empty shop from a search that found nothing', async () => {
    list({ items: [], next: null });
    expect(screen.getByText('No parts yet')).toBeDefined();
    cleanup();
    page.url = new URL('http://localhost/parts?search=ring');
    list({ items: [], next: null });
    expect(await screen.findByText('Nothing matches.')).toBeDefined();
    expect(screen.getByRole('link', { name: 'Show all' }).getAttribute('href')).toBe('/parts');
  });

  it('asks for the other order in the address, and says which one stands', async () => {
    page.url = new URL('http://localhost/parts?sort=name&search=ring');
    list({ items: [part(1)], next: null });
    const head = screen.getByRole('columnheader');
    expect(head.getAttribute('aria-sort')).toBe('ascending');
    await fireEvent.click(within(head).getByRole('button'));
    expect(goto.mock.lastCall?.[0]).toBe('/parts?sort=-name&search=ring');
  });

  it('is walked with the arrow keys', async () => {
    list({ items: [part(1), part(2), part(3)], next: null });
    const [first, , last] = screen.getAllByRole('link');
    first?.focus();
    await fireEvent.keyDown(first as HTMLElement, { key: 'ArrowDown' });
    expect(document.activeElement?.textContent).toBe('Part 2');
    await fireEvent.keyDown(document.activeElement as HTMLElement, { key: 'End' });
    expect(document.activeElement).toBe(last);
    await fireEvent.keyDown(last as HTMLElement, { key: 'ArrowDown' });
    expect(document.activeElement).toBe(last);
  });
});
