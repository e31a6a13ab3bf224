import { EXAMPLE_JOB, type Job } from '../../src/costing/index.ts';

export type Changes = { [K in keyof Job]?: Job[K] extends object ? Partial<Job[K]> : Job[K] };

/** The example job with some of its figures changed. */
export const changedJob = (changes: Changes): Job => ({
  quantity: changes.quantity ?? EXAMPLE_JOB.quantity,
  part: { ...EXAMPLE_JOB.part, ...changes.part },
  rack: { ...EXAMPLE_JOB.rack, ...changes.rack },
  limits: { ...EXAMPLE_JOB.limits, ...changes.limits },
  process: { ...EXAMPLE_JOB.process, ...changes.process },
  labour: { ...EXAMPLE_JOB.labour, ...changes.labour },
  charges: { ...EXAMPLE_JOB.charges, ...changes.charges },
  rates: { ...EXAMPLE_JOB.rates, ...changes.rates },
});
