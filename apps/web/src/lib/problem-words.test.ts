import { describe, expect, it } from 'vitest';
import { pathWords, problemSentences } from './problem-words.ts';
import { ApiProblem } from './problem.ts';

const refused = (path: string, message: string) =>
  new ApiProblem({
    code: 'invalid-input',
    detail: `${path}: ${message}`,
    status: 422,
    issues: [{ path, message }],
  });

describe('a refusal that named a path of the API', () => {
  it.each([
    ['customerOrderNumber', 'customer order number'],
    ['lines.0.quantities.2', 'line 1, quantity 3'],
    ['loads.0', 'load 1'],
    ['temperatureC', 'temperature'],
    ['sdsFileId', 'safety data sheet'],
    ['changeNote', 'change note'],
  ])('%s is said as %s', (path, words) => expect(pathWords(path)).toBe(words));

  it('is a sentence where its field is not on the screen', () => {
    expect(problemSentences(refused('customerOrderNumber', 'must be filled in'))).toEqual([
      'Customer order number must be filled in.',
    ]);
  });

  it('leaves a sentence alone', () => {
    expect(problemSentences(refused('rackId', 'Aluminium must not go into caustic.'))).toEqual([
      'Aluminium must not go into caustic.',
    ]);
  });

  it('keeps the detail of a refusal that names no field', () => {
    const full = new ApiProblem({ code: 'conflict', detail: 'The tank is full.', status: 409 });
    expect(problemSentences(full)).toEqual(['The tank is full.']);
  });
});
