import type { Measured } from './measure.ts';

interface Size {
  years: number;
  lots: number;
  answers: readonly Measured[];
}

/** The steepest that a cost may rise with the number of lots, both as logarithms, where the answer does not grow. */
const MAX_SLOPE = 0.1;
/** Over all sizes a cost may rise by so much for other reasons: an index that got a level, a page more for the same rows. */
const NOISE = 1.5;

/** Rise of one quantity with another, both as logarithms, by least squares. */
export function slope(points: readonly (readonly [size: number, cost: number])[]): number {
  const logs = points.map(([size, cost]) => [Math.log(size), Math.log(Math.max(cost, 1e-3))] as const);
  const mean = (index: 0 | 1) => logs.reduce((sum, log) => sum + log[index], 0) / logs.length;
  const [x, y] = [mean(0), mean(1)];
  const across = logs.reduce((sum, [one, other]) => sum + (one - x) * (other - y), 0);
  return across / logs.reduce((sum, [one]) => sum + (one - x) ** 2, 0);
}

/** One question over all sizes: whether it got dearer with the years. */
export const isDearer = (points: readonly (readonly [size: number, cost: number])[]): boolean => {
  const costs = points.map(([, cost]) => cost);
  return slope(points) > MAX_SLOPE && (costs.at(-1) ?? 0) > NOISE * (costs[0] ?? 0);
};

/** A table of every question, and what is wrong in words. */
export function report(sizes: readonly Size[]): { markdown: string; faults: string[] } {
  const last = sizes.at(-1);
  if (last === undefined) throw new Error('nothing was asked');
  const faults: string[] = [];
  const rows = last.answers.map((answer) => {
    const over = sizes.flatMap(({ lots, answers }) => {
      const found = answers.find(({ name }) => name === answer.name);
      return found === undefined ? [] : [{ lots, found }];
    });
    const pages = over.map(({ lots, found }) => [lots, found.pages] as const);
    const times = over.map(({ lots, found }) => [lots, found.p50Ms] as const);
    if (answer.grows === null && over.length > 1 && isDearer(pages))
      faults.push(
        `“${answer.name}” touches ${pages.map(([, cost]) => cost).join(', ')} pages: slope ${slope(pages).toFixed(2)}.`,
      );
    if (answer.same === false) faults.push(`“${answer.name}” answers otherwise than the statement by hand.`);
    const ratio = answer.handMs === null ? '' : (answer.ownMs / answer.handMs).toFixed(1);
    return [
      answer.name,
      ...[answer.p50Ms, answer.p95Ms].map((ms) => ms.toFixed(1)),
      String(answer.statements),
      answer.ownMs.toFixed(1),
      answer.handMs === null ? '' : answer.handMs.toFixed(1),
      ratio,
      over.map(({ found }) => found.pages).join(' / '),
      answer.handPages === null ? '' : String(answer.handPages),
      over.length > 1 ? slope(pages).toFixed(2) : '',
      over.length > 1 ? slope(times).toFixed(2) : '',
      answer.scans.join(', '),
    ];
  });
  const heads = [
    ...['question', 'p50 ms', 'p95 ms', 'statements', 'in pg ms', 'by hand ms', 'ratio'],
    ...[
      `pages at ${sizes.map(({ years }) => years).join(' / ')} years`,
      'pages by hand',
      'slope of pages',
      'slope of time',
      'read from end to end',
    ],
  ];
  const line = (cells: readonly string[]) => `| ${cells.join(' | ')} |`;
  return { markdown: [line(heads), line(heads.map(() => '---')), ...rows.map(line)].join('\n'), faults };
}
