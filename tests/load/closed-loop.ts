/** How fast a thing was done by several hands at once, and how long one of them waited. */
export interface Pace {
  perSecond: number;
  p95Ms: number;
}

/** Does every job once; `hands` of them are under way at any moment, each hand as fast as it can. */
export async function closedLoop<Job>(
  jobs: readonly Job[],
  { work, hands }: { hands: number; work: (job: Job) => Promise<void> },
): Promise<Pace> {
  const waits: number[] = [];
  let next = 0;
  const hand = async () => {
    for (let job = jobs[next++]; job !== undefined; job = jobs[next++]) waits.push(await timed(job, work));
  };
  const began = performance.now();
  await Promise.all(Array.from({ length: hands }, hand));
  return { perSecond: (jobs.length * 1000) / (performance.now() - began), p95Ms: p95(waits) };
}

/** Starts the jobs evenly spread over time, as people who work for a while between two touches do. */
export async function spread<Job>(
  jobs: readonly Job[],
  { perSecond, work }: { perSecond: number; work: (job: Job) => Promise<void> },
): Promise<Pace> {
  const began = performance.now();
  const waits = await Promise.all(
    jobs.map(async (job, index) => {
      await new Promise((resolve) => setTimeout(resolve, (index * 1000) / perSecond));
      return timed(job, work);
    }),
  );
  return { perSecond: (jobs.length * 1000) / (performance.now() - began), p95Ms: p95(waits) };
}

async function timed<Job>(job: Job, work: (job: Job) => Promise<void>): Promise<number> {
  const began = performance.now();
  await work(job);
  return performance.now() - began;
}

function p95(waits: number[]): number {
  waits.sort((one, other) => one - other);
  return waits[Math.ceil(waits.length * 0.95) - 1] ?? NaN;
}
