import { type InputPath, JOB_INPUTS } from './job-inputs.ts';

/** A number that went into a result, as it can be shown beside the formula. */
export interface Figure {
  label: string;
  value: number;
  /** As printed; `¤` stands for the currency, an empty text for a pure number. */
  unit: string;
  /** Where it stands in the job; absent for an intermediate result. */
  path?: string;
}

/** The job's own figures at these places. */
export const figures = (job: unknown, ...paths: (InputPath | `${string}[${number}].${string}`)[]): Figure[] =>
  paths.map((path) => {
    const { label, unit } = JOB_INPUTS[path.replace(/\[\d+\]/, '[]') as InputPath];
    return { label, value: numberAt(job, path), unit, path };
  });

export const derived = (label: string, value: number, unit: string): Figure => ({ label, value, unit });

function numberAt(job: unknown, path: string): number {
  const value = path
    .split(/[.[\]]+/)
    .reduce<unknown>((node, key) => (node as Record<string, unknown>)[key], job);
  return typeof value === 'number' ? value : NaN;
}
