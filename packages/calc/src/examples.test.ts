import { describe, expect, it } from 'vitest';
import { runExample } from '../docs/example.ts';
import { readPublicApi } from '../docs/public-api.ts';
import * as calc from './index.ts';

const callable = readPublicApi().filter(({ kind }) => kind === 'function' || kind === 'class');

describe('the example of every public function', () => {
  it('reads all of them', () => {
    const exported = Object.entries(calc).filter(([, value]) => typeof value === 'function');
    expect(callable.map(({ name }) => name).sort()).toEqual(exported.map(([name]) => name).sort());
  });

  it.each(callable)('$name', ({ example }) => {
    expect(example, 'a doc comment with @example').not.toBeNull();
    expect(runExample(example ?? '', { ...calc })).toEqual([]);
  });
});

describe('a wrong example fails', () => {
  const scope = {
    double: (x: number) => 2 * x,
    part: () => ({ area: 1.239, joints: ['a', 'b'], flags: [] }),
  };

  it.each([
    ['double(0.617) // 1.23', []],
    ['double(0.617) // 1.24', ['result is 1.234, the example says 1.24']],
    ['double(-6.17e-4) // -1.23e-3', []],
    ['double(-6.17e-4) // -1.24e-3', ['result is -0.001234, the example says -1.24e-3']],
    ['const x: number = 2;\ndouble(x) // 4', []],
    ['const x = 2;\ndouble(x)\n// 5', ['result is 4, the example says 5']],
    ['part() // { area: 1.24 }', []],
    ['part()\n// { area: 1.24,\n//   flags: [] }', []],
    ['part() // { area: 1.25 }', ['result.area is 1.239, the example says 1.25']],
    ['part() // { volume: 3 }', ['result.volume is undefined, the example says 3']],
    ["part() // { joints: ['a', 'c'] }", ["result.joints[1] is b, the example says 'c'"]],
    ["part() // { joints: ['a'] }", ['result.joints has 2 elements, the example shows 1']],
    ['part().area // { area: 1 }', ['result is 1.239, not an object']],
    ['part().flags.length === 0 // true', []],
    ['part().flags.length === 0 // false', ['result is true, the example says false']],
  ])('%j', (example, differences) => {
    expect(runExample(example, scope)).toEqual(differences);
  });

  it.each([
    ['double(2)', 'followed by //'],
    ['const x = 2;', 'must be an expression'],
    ['double(2) // double(2)', 'write a literal'],
    ['part() // { ...part() }', 'cannot compare'],
  ])('%j is refused', (example, fault) => {
    expect(() => runExample(example, scope)).toThrow(fault);
  });
});
