// @vitest-environment jsdom
import { cleanup, fireEvent, render, screen, waitFor } from '@testing-library/svelte';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { closeTab } from '../../test/app-navigation.ts';
import CustomerForm from '../../test/CustomerForm.svelte';
import { ApiProblem } from '../problem.ts';
import { FormState } from './form.svelte.ts';

interface Values {
  name: string;
  notes: string;
}
const refusal = new ApiProblem({
  code: 'invalid-input',
  status: 422,
  detail: 'Some fields are wrong.',
  issues: [{ path: 'name', message: 'must not be empty' }],
});

function customerForm(send: (values: Values, version: number) => Promise<unknown>) {
  const done = vi.fn();
  const form = new FormState<Values, unknown>({
    values: { name: '', notes: '' },
    editing: {
      version: 3,
      reread: (current) => ({ values: current as Values, version: 4 }),
    },
    send,
    done,
  });
  render(CustomerForm, { form });
  return { form, done };
}
const field = (label: string) => screen.getByLabelText<HTMLInputElement>(label);
const type = (label: string, value: string) => fireEvent.input(field(label), { target: { value } });
const save = () => fireEvent.click(screen.getByRole('button', { name: 'Save customer' }));

// jsdom lays nothing out, so nothing ever comes into view.
beforeEach(() => {
  vi.stubGlobal(
    'IntersectionObserver',
    class {
      observe = () => undefined;
      disconnect = () => undefined;
    },
  );
});
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

describe('a form', () => {
  it('marks what was refused, leads there, and keeps what was typed', async () => {
    const { done } = customerForm(() => Promise.reject(refusal));
    await type('Notes', 'pays late');
    await save();
    await waitFor(() => expect(field('Name').getAttribute('aria-invalid')).toBe('true'));
    await waitFor(() => expect(document.activeElement).toBe(field('Name')));
    expect(screen.getByText('Not saved yet')).toBeDefined();
    expect(field('Notes').value).toBe('pays late');
    expect(done).not.toHaveBeenCalled();

    await type('Name', 'Anodwerk');
    expect(field('Name').getAttribute('aria-invalid')).toBeNull();
    expect(screen.queryByText('Not saved yet')).toBeNull();
  });

  it('sends what was typed with the version it began from', async () => {
    const send = vi.fn((_values: Values, _version: number) => Promise.resolve({ id: 7 }));
    const { form, done } = customerForm(send);
    await type('Name', 'Anodwerk');
    await save();
    await waitFor(() => expect(done).toHaveBeenCalledExactlyOnceWith({ id: 7 }));
    expect(send).toHaveBeenCalledExactlyOnceWith({ name: 'Anodwerk', notes: '' }, 3);
    expect(form.dirty).toBe(false);
  });

  it('shows both values of a clash, and sends again over the other', async () => {
    const current = { name: 'Anodwerk GmbH', notes: '' };
    const send = vi
      .fn<(values: Values, version: number) => Promise<unknown>>()
      .mockRejectedValueOnce(
        new ApiProblem({ code: 'version-conflict', status: 412, detail: 'Changed meanwhile.', current }),
      )
      .mockResolvedValueOnce({ id: 7 });
    const { done } = customerForm(send);
    await type('Name', 'Anodwerk KG');
    await save();
    expect((await screen.findByText('Anodwerk GmbH')).closest('table, div')?.textContent).toContain(
      'Anodwerk KG',
    );
    await fireEvent.click(screen.getByRole('button', { name: 'Keep mine' }));
    await waitFor(() => expect(done).toHaveBeenCalledOnce());
    expect(send).toHaveBeenLastCalledWith({ name: 'Anodwerk KG', notes: '' }, 4);
  });

  it('holds the page back while something is typed and not saved', async () => {
    customerForm(() => Promise.resolve({ id: 7 }));
    expect(closeTab()).toBe(true);
    await type('Name', 'Anodwerk');
    expect(closeTab()).toBe(false);
    await save();
    await waitFor(() => expect(closeTab()).toBe(true));
  });
});
