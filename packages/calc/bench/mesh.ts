import { meshMeasure, readStl } from '../src/index.ts';
import { pullApart, torusStl } from './torus-mesh.ts';

// Runs in a process of its own, so that its peak memory is that of the mesh alone; prints one line of JSON.
const bytes = torusStl({ around: 1000, along: 600 });
if (process.argv[2] === 'apart') pullApart(bytes);
const beforeMb = process.memoryUsage().rss / 2 ** 20;
const cpu = process.cpuUsage();
const start = performance.now();
const mesh = readStl(bytes);
const readS = (performance.now() - start) / 1000;
const measure = meshMeasure(mesh);
const totalS = (performance.now() - start) / 1000;
const { user, system } = process.cpuUsage(cpu);
const cpuS = (user + system) / 1e6;
const peakMb = process.resourceUsage().maxRSS / 1024;
console.log(
  JSON.stringify({
    facets: measure.facets,
    openEdges: measure.openEdges,
    readS,
    totalS,
    cpuS,
    beforeMb,
    peakMb,
  }),
);
