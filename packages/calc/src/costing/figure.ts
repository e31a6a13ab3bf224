import { type InputPath, JOB_INPUTS } from './job-inputs.ts';

/** A number that went into a result, as it can be shown beside the formula. */
export interface Figure {
  label: string;
  value: number;
  /**
   * As printed; `¤` stands for the currency of the rates, `¤¤` for that of the price, an empty text for a pure number.
   */
  unit: string;
  /** Where it stands in the job; absent for an intermediate result. */
  path?: string;
}

type ListPath = `${string}[${number}].${string}`;

/** The job's own figures at these places. */
export const figures = (job: unknown, ...paths: (InputPath | ListPath)[]): Figure[] =>
  paths.map((path) => {
    const inList = path.includes('[');
    const { label, unit } = JOB_INPUTS[(inList ? path.replace(/\[\d+\]/, '[]') : path) as InputPath];
    const keys = (inList ? path.replace('[', '.').replace(']', '') : path).split('.');
    return { label, value: numberAt(job, keys), unit, path };
  });

export const derived = (label: string, value: number, unit: string): Figure => ({ label, value, unit });

function numberAt(job: unknown, keys: readonly string[]): number {
  const value = keys.reduce<unknown>((node, key) => (node as Record<string, unknown>)[key], job);
  return typeof value === 'number' ? value : NaN;
}
