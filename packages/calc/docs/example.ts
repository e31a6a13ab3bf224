import { compileFunction } from 'node:vm';
import ts from 'typescript';

/** An example as written: statements, the last expression, and the literal it should come to. */
interface Example {
  setup: string;
  expression: string;
  expected: ts.Expression;
}

/**
 * Runs the lines of an `@example` with `scope` as their globals and compares the last expression with the literal after
 * it. Returns what differs, empty when nothing does. Numbers agree to the digits printed, lists element by element, and an
 * object may have more keys than its literal shows.
 */
export function runExample(lines: string, scope: Record<string, unknown>): string[] {
  const { setup, expression, expected } = parseExample(lines);
  const body = ts.transpile(`${setup}\nreturn (${expression}\n);`, { target: ts.ScriptTarget.ES2023 });
  const run = compileFunction(`'use strict';\n${body}`, Object.keys(scope)) as (
    ...values: unknown[]
  ) => unknown;
  return differences({ found: run(...Object.values(scope)), expected, path: 'result' });
}

function parseExample(lines: string): Example {
  const source = parse(lines);
  const last = source.statements.at(-1);
  if (!last || !ts.isExpressionStatement(last)) throw new Error('the last line must be an expression');
  const comment = lines
    .slice(last.end)
    .split('\n')
    .map((line) => line.trim().replace(/^\/\/ ?/, ''))
    .join('\n')
    .trim();
  const literal = parse(`(${comment}\n)`).statements[0];
  if (comment === '' || !literal || !ts.isExpressionStatement(literal)) {
    throw new Error('the last expression must be followed by // and the literal it comes to');
  }
  return {
    setup: lines.slice(0, last.getStart(source)),
    expression: last.expression.getText(source),
    expected: literal.expression,
  };
}

const parse = (text: string): ts.SourceFile =>
  ts.createSourceFile('example.ts', text, ts.ScriptTarget.ES2023, true);

interface Comparison {
  found: unknown;
  expected: ts.Expression;
  path: string;
}

function differences({ found, expected, path }: Comparison): string[] {
  if (ts.isParenthesizedExpression(expected))
    return differences({ found, expected: expected.expression, path });
  if (ts.isObjectLiteralExpression(expected)) return objectDifferences({ found, expected, path });
  if (ts.isArrayLiteralExpression(expected)) return listDifferences({ found, expected, path });
  const printed = expected.getText();
  const same = isNumber(expected) ? agrees(found, printed) : Object.is(found, constant(expected));
  return same ? [] : [`${path} is ${String(found)}, the example says ${printed}`];
}

function objectDifferences({
  found,
  expected,
  path,
}: Comparison & { expected: ts.ObjectLiteralExpression }): string[] {
  if (typeof found !== 'object' || found === null) return [`${path} is ${String(found)}, not an object`];
  const values = new Map(Object.entries(found));
  return expected.properties.flatMap((property) => {
    if (!ts.isPropertyAssignment(property)) throw new Error(`cannot compare with ${property.getText()}`);
    const key = ts.isStringLiteral(property.name) ? property.name.text : property.name.getText();
    return differences({ found: values.get(key), expected: property.initializer, path: `${path}.${key}` });
  });
}

function listDifferences({
  found,
  expected,
  path,
}: Comparison & { expected: ts.ArrayLiteralExpression }): string[] {
  const values = Array.isArray(found)
    ? found
    : ArrayBuffer.isView(found)
      ? [...(found as Float64Array)]
      : null;
  if (values?.length !== expected.elements.length) {
    return [`${path} has ${values?.length ?? 'no'} elements, the example shows ${expected.elements.length}`];
  }
  return expected.elements.flatMap((element, i) =>
    differences({ found: values[i] as unknown, expected: element, path: `${path}[${i}]` }),
  );
}

const isNumber = (expression: ts.Expression): boolean =>
  ts.isNumericLiteral(expression) ||
  (ts.isPrefixUnaryExpression(expression) && ts.isNumericLiteral(expression.operand));

/** Within half a unit of the last printed digit. */
function agrees(found: unknown, printed: string): boolean {
  const [mantissa = '', exponent = '0'] = printed.replaceAll('_', '').toLowerCase().split('e');
  const decimals = (mantissa.split('.')[1] ?? '').length;
  const halfUnit = 0.5 * 10 ** (Number(exponent) - decimals);
  const value = Number(printed.replaceAll('_', ''));
  return (
    typeof found === 'number' && Math.abs(found - value) <= halfUnit + Math.abs(value) * 4 * Number.EPSILON
  );
}

function constant(expression: ts.Expression): unknown {
  if (ts.isStringLiteral(expression) || ts.isNoSubstitutionTemplateLiteral(expression))
    return expression.text;
  const printed = expression.getText();
  const known = new Map<string, unknown>([
    ['true', true],
    ['false', false],
    ['null', null],
    ['undefined', undefined],
    ['Infinity', Infinity],
    ['-Infinity', -Infinity],
  ]);
  if (!known.has(printed)) throw new Error(`cannot compare with ${printed}: write a literal`);
  return known.get(printed);
}
