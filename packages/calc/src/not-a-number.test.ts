import { describe, expect, it } from 'vitest';
import { runExample } from '../docs/example.ts';
import { readPublicApi } from '../docs/public-api.ts';
import * as calc from './index.ts';
import { CalcError } from './errors.ts';

type Path = (string | number)[];
interface Call {
  name: string;
  run: (...input: unknown[]) => unknown;
  input: unknown[];
}

/** What every example hands to the public functions, nested calls included. */
function callsOfExamples(): Call[] {
  const calls: Call[] = [];
  const scope: Record<string, unknown> = { ...calc };
  for (const [name, value] of Object.entries(calc)) {
    if (typeof value !== 'function' || value === CalcError) continue;
    const run = value as Call['run'];
    scope[name] = (...input: unknown[]) => {
      calls.push({ name, run, input });
      return run(...input);
    };
  }
  for (const { kind, example } of readPublicApi())
    if (kind === 'function' && example !== null) runExample(example, scope);
  return calls;
}

/** Where numbers stand in a value. Of long lists the first are enough: the rest are read by the same loop. */
function numbersIn(value: unknown, path: Path = []): Path[] {
  if (typeof value === 'number') return [path];
  if (typeof value !== 'object' || value === null || ArrayBuffer.isView(value)) return [];
  const entries = Object.entries(value);
  return (Array.isArray(value) ? entries.slice(0, 4) : entries).flatMap(([key, item]) =>
    numbersIn(item, [...path, key]),
  );
}

function replaced(value: unknown, [key, ...rest]: Path, by: number): unknown {
  if (key === undefined) return by;
  const copy = (Array.isArray(value) ? [...(value as unknown[])] : { ...(value as object) }) as Record<
    string | number,
    unknown
  >;
  copy[key] = replaced(copy[key], rest, by);
  return copy;
}

function answerTo({ run, input }: Call, path: Path, bad: number): string {
  try {
    run(...(replaced(input, path, bad) as unknown[]));
    return 'an answer';
  } catch (error) {
    return error instanceof CalcError ? 'refused' : String(error);
  }
}

describe('a number that is none got an answer', () => {
  const calls = callsOfExamples();

  it('is asked of every public function that takes numbers', () => {
    const places = calls.flatMap(({ input }) => numbersIn(input));
    expect(places.length).toBeGreaterThan(700);
  });

  it.each([NaN, Infinity, -Infinity])('%s is refused wherever a number stands', (bad) => {
    const answered = calls.flatMap((call) =>
      numbersIn(call.input)
        .map((path) => [`${call.name}(${path.join('.')})`, answerTo(call, path, bad)])
        .filter(([, answer]) => answer !== 'refused'),
    );
    expect(answered).toEqual([]);
  });
});
