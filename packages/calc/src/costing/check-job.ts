import { checkNumber, checkWhole } from '../check.ts';
import { CalcError } from '../errors.ts';
import type {
  Job,
  JobCurrency,
  JobLabour,
  JobLimits,
  JobPart,
  JobProcess,
  JobRack,
  JobRates,
  LoadJob,
} from './job.ts';
import { JOB_INPUTS, type JobInput } from './job-inputs.ts';

/** Nothing optional left: what the arithmetic reads. */
type Complete<T> = { [K in keyof T]-?: Exclude<T[K], undefined> };

export interface CompleteLoad {
  quantity: number;
  part: Complete<JobPart>;
  rack: Complete<JobRack>;
  limits: Complete<JobLimits>;
  process: Pick<JobProcess, 'peakAPerM2' | 'averageVoltageV'>;
}

export interface CompleteJob extends CompleteLoad {
  process: Complete<JobProcess>;
  labour: JobLabour;
  charges: Complete<Job['charges']>;
  rates: Omit<Complete<JobRates>, 'marginShare' | 'markupShare'> & { marginShare: number };
  currency: JobCurrency;
}

/** One number of a job: where it stands, what it is, what was given. */
export interface GivenInput {
  /** `process.chemicals[0].pricePerKg` */
  path: string;
  input: JobInput;
  value: unknown;
}

const TABLE = Object.entries(JOB_INPUTS).map(([path, input]) => ({ path, segments: path.split('.'), input }));
const LOAD_TABLE = TABLE.filter(({ path }) =>
  /^(quantity$|part\.|rack\.|limits\.|process\.(peakAPerM2|averageVoltageV)$)/.test(path),
);

/** Every number of the job, in the order of the table. */
export const inputsOf = (job: unknown, table = TABLE): GivenInput[] =>
  table.flatMap(({ segments, input }) =>
    expand({ node: job, segments, here: '' }).map(({ path, value }) => ({ path, value, input })),
  );

interface Place {
  node: unknown;
  segments: readonly string[];
  here: string;
}

function expand({ node, segments: [head, ...rest], here }: Place): { path: string; value: unknown }[] {
  if (head === undefined) return [{ path: here, value: node }];
  const key = head.replace('[]', '');
  const path = here ? `${here}.${key}` : key;
  const child: unknown = (node as Record<string, unknown> | null | undefined)?.[key];
  if (key === head) return expand({ node: child, segments: rest, here: path });
  if (child === undefined) return [];
  if (!Array.isArray(child))
    throw new CalcError({ code: 'malformed', argument: path, given: child, allowed: 'a list' });
  return child.flatMap((element, i) => expand({ node: element, segments: rest, here: `${path}[${i}]` }));
}

function checkInputs(inputs: readonly GivenInput[]): void {
  for (const { path, input, value } of inputs) {
    if ((input.optional && value === undefined) || (input.nullable && value === null)) continue;
    if (input.whole) checkWhole(path, value, input.range);
    else checkNumber(path, value, input.range);
  }
}

/** Refuses a number that is missing or out of range, names it by its path, and fills in what may be left out. */
export function completeLoad(job: LoadJob): CompleteLoad {
  checkInputs(inputsOf(job, LOAD_TABLE));
  return withDefaults(job);
}

function withDefaults(job: LoadJob): CompleteLoad {
  const { quantity, part, rack, limits, process } = job;
  return {
    quantity,
    part: {
      ...part,
      electricalAreaMm2: part.electricalAreaMm2 ?? part.areaMm2,
      heatCapacityJPerKgK: part.heatCapacityJPerKgK ?? 0,
      masks: part.masks ?? [],
    },
    rack: { ...rack, layers: rack.layers ?? 1, massKg: rack.massKg ?? 0, bareAreaMm2: rack.bareAreaMm2 ?? 0 },
    limits: {
      maxCurrentA: limits.maxCurrentA,
      hoistMaxKg: limits.hoistMaxKg ?? null,
      bathVolumeL: limits.bathVolumeL ?? null,
      maxAreaMm2PerL: limits.maxAreaMm2PerL ?? null,
      coolingKw: limits.coolingKw ?? null,
      validatedPieces: limits.validatedPieces ?? null,
    },
    process,
  };
}

/** The same for a whole job; a markup becomes the margin it amounts to. */
export function completeJob(job: Job): CompleteJob {
  checkInputs(inputsOf(job));
  const { process, labour, charges, rates } = job;
  return {
    ...withDefaults(job),
    process: { ...process, temperatureRiseK: process.temperatureRiseK ?? 0 },
    labour,
    charges: { ...charges, oneOffs: charges.oneOffs ?? [] },
    rates: {
      ...rates,
      reworkMayFailAgain: rates.reworkMayFailAgain ?? false,
      overheadShare: rates.overheadShare ?? 0,
      overheadPerLabourHour: rates.overheadPerLabourHour ?? 0,
      marginShare: marginOf(rates),
    },
    currency: job.currency ?? { exchangeRate: 1, minorDigits: 2 },
  };
}

function marginOf({ marginShare, markupShare }: JobRates): number {
  if ((marginShare === undefined) === (markupShare === undefined)) {
    throw new CalcError({
      code: 'impossible',
      argument: 'rates.marginShare',
      given: marginShare === undefined ? 'neither margin nor markup' : 'both margin and markup',
      allowed: 'rates.marginShare or rates.markupShare, one of them',
    });
  }
  return marginShare ?? (markupShare ?? 0) / (1 + (markupShare ?? 0));
}
