export { keepPaper } from './keep.ts';
export { type PaperRow, readLastPaper, readPaper } from './queries.ts';
export { viewPapers } from './view.ts';
