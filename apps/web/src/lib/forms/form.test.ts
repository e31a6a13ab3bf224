import { expect, it } from 'vitest';
import { ApiProblem } from '../problem.ts';
import { FormState } from './form.svelte.ts';

const refusal = new ApiProblem({
  code: 'invalid-input',
  status: 422,
  detail: 'name: must not be empty',
  issues: [{ path: 'name', message: 'must not be empty' }],
});

it('keeps what was typed when the server refuses, and names the field until it changes', async () => {
  const form = new FormState({
    values: { name: '', notes: '' },
    send: () => Promise.reject(refusal),
    done: () => expect.unreachable('a refused form is not done'),
  });
  form.values.notes = 'typed with care';
  await form.submit();
  expect(form.values.notes).toBe('typed with care');
  expect(form.problem?.code).toBe('invalid-input');
  expect(form.field('name')).toEqual({ name: 'name', error: 'must not be empty' });
  expect(form.dirty).toBe(true);
  form.values.name = 'Acme';
  expect(form.errorOf('name')).toBeUndefined();
  expect(form.problem).toBeNull();
  form.values.name = '';
  expect(form.problem?.code).toBe('invalid-input');
  expect(form.busy).toBe(false);
});

it('keeps a refusal that names no field until the form is sent again', async () => {
  const full = new ApiProblem({ code: 'conflict', status: 409, detail: 'The tank is full.' });
  const answers = [() => Promise.reject(full), () => Promise.resolve()];
  const form = new FormState({
    values: { name: 'A' },
    send: () => (answers.shift() ?? expect.unreachable)(),
    done: () => {},
  });
  await form.submit();
  form.values.name = 'B';
  expect(form.problem?.detail).toBe('The tank is full.');
  await form.submit();
  expect(form.problem).toBeNull();
});

it('sends once however often it is pressed', async () => {
  let sent = 0;
  let answer = (_: string) => {};
  const form = new FormState({
    values: { name: 'A' },
    send: () => {
      sent += 1;
      return new Promise<string>((resolve) => (answer = resolve));
    },
    done: () => {},
  });
  const first = form.submit();
  await form.submit();
  expect(form.busy).toBe(true);
  answer('ok');
  await first;
  expect(sent).toBe(1);
  expect(form.dirty).toBe(false);
});

it('shows both values on a clash; mine goes over theirs only when asked', async () => {
  const versions: number[] = [];
  const form = new FormState({
    values: { name: 'mine', terms: 30 },
    editing: {
      version: 1,
      reread: (current) => ({ values: current as { name: string; terms: number }, version: 2 }),
    },
    send: (values, version) => {
      versions.push(version);
      if (version === 2) return Promise.resolve(values);
      const current = { name: 'theirs', terms: 30 };
      return Promise.reject(
        new ApiProblem({
          code: 'version-conflict',
          status: 412,
          detail: 'Changed in the meantime',
          current,
        }),
      );
    },
    done: () => {},
  });
  await form.submit();
  expect(form.clash?.differences).toEqual([{ path: 'name', mine: 'mine', theirs: 'theirs' }]);
  await form.keepMine();
  expect(versions).toEqual([1, 2]);
  expect(form.clash).toBeNull();
});
