export { computeAnalysis } from './compute.ts';
export { analysesAround } from './around.ts';
export { readAnalyses, readAnalysis, readLastMethodCode, readSamplePoints, toSummaries } from './queries.ts';
export { addAnalyses } from './write-queries.ts';
export { analysisBackground } from './background.ts';
export { recordAnalysis } from './record.ts';
export { reviewAnalysis } from './review.ts';
