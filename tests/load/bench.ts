import { EXAMPLE_QUOTED_JOB, priceQuantities, quotedJob } from '@huelot/calc';
import { secondsPerCall } from '../../packages/calc/bench/timing.ts';
import { measureBathChart } from './bath-chart.ts';
import { compareRequests, type Compared } from './requests.ts';
import { measureStartUp } from './start-up.ts';

/** One figure with the aim it is held against, where there is one. */
function tell(what: string, figure: string, aim?: { words: string; met: boolean }): void {
  const verdict = aim === undefined ? '' : `   aim ${aim.words}: ${aim.met ? 'met' : 'MISSED'}`;
  console.log(`${what.padEnd(64)} ${figure.padStart(16)}${verdict}`);
}

function tellRequests(what: string, { statements, bare, service, paced }: Compared): void {
  const share = service.perSecond / bare.perSecond;
  tell(`${what}, its ${statements} statements through bare pg`, `${bare.perSecond.toFixed(0)} a second`);
  tell(`${what}, the service over HTTP`, `${service.perSecond.toFixed(0)} a second`);
  tell('  the service against bare pg', share.toFixed(2), { words: 'at least 0.6', met: share >= 0.6 });
  tell('  95 of 100 answered, 50 people without a pause', `${service.p95Ms.toFixed(1)} ms`);
  tell('  95 of 100 answered, 50 people once a second each', `${paced.p95Ms.toFixed(1)} ms`, {
    words: 'under 50 ms',
    met: paced.p95Ms < 50,
  });
}

console.log(`node ${process.version}; compare ratios, not times of different machines\n`);

const job = quotedJob(EXAMPLE_QUOTED_JOB);
const quantities = [12, 48, 96, 240, 480];
const price = secondsPerCall(() => {
  for (let line = 0; line < 10; line += 1) priceQuantities({ job, quantities });
});
tell('price of a quotation of 10 lines in 5 quantities', `${(price * 1000).toFixed(2)} ms`, {
  words: 'a frame, 16.7 ms',
  met: price < 1 / 60,
});

const { open, sign } = await compareRequests();
tellRequests('open a lot', open);
tellRequests('sign a step', sign);

const chart = await measureBathChart();
const chartName = `chart of ${chart.points} analyses of a bath, of 40,000 in six`;
tell(`${chartName}, through bare pg`, `${chart.bareMs.toFixed(1)} ms`);
tell(`${chartName}, the service`, `${chart.serviceMs.toFixed(1)} ms`, {
  words: 'under 100 ms',
  met: chart.serviceMs < 100,
});
tell('  its page under the hand, 95 of 100 frames', `${chart.frameMs.toFixed(1)} ms`, {
  words: 'under 33 ms, every second frame of a screen',
  met: chart.frameMs < 33.4,
});

const { freshS, warmS, restMb } = await measureStartUp();
tell('fresh clone to serving, npm run demo', `${freshS.toFixed(1)} s`, {
  words: 'under 120 s',
  met: freshS < 120,
});
tell('second start to the first page', `${warmS.toFixed(1)} s`, { words: 'under 4 s', met: warmS < 4 });
tell('memory at rest, without the database', `${restMb.toFixed(0)} MB`, {
  words: 'under 200 MB',
  met: restMb < 200,
});
