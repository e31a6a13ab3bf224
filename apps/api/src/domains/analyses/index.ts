export { computeAnalysis } from './compute.ts';
export { analysesAround } from './around.ts';
export { readAnalyses, readAnalysis, readLastMethodCode, readSamplePoints, toSummaries } from './queries.ts';
export { addAnalysis } from './write-queries.ts';
