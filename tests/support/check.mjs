import { runQuietly } from '../../deploy/run-quietly.mjs';

/**
 * One check that passes or fails: a program that ends well, or a function that does not throw. What it says is shown
 * if it fails; the others run all the same.
 */
export async function check(title, work) {
  const began = Date.now();
  try {
    await (typeof work === 'function' ? work() : runQuietly(work.program, { args: work.args }));
    report('passed', { title, began });
    return { passed: 1, failed: 0 };
  } catch (error) {
    report('FAILED', { title, began });
    console.log(`\n${error.message}\n`);
    return { passed: 0, failed: 1 };
  }
}

export function report(verdict, { title, began }) {
  console.log(`${verdict}  ${title} (${((Date.now() - began) / 1000).toFixed(0)} s)`);
}
