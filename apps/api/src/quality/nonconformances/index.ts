export { readBlockedPieces, readCertificateFindings } from './blocking.ts';
export { readEvents as readNonconformanceEvents, rejectedByDispositions } from './queries.ts';
export { open as openNonconformance } from './open.ts';
export { dispose as disposeNonconformance } from './dispose.ts';
export { addEntry as addNonconformanceEntry, close as closeNonconformance } from './entries.ts';
