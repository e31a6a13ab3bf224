export { getFile, openFile, toStoredFile } from './files.ts';
export { keepFiles, readFiles } from './queries.ts';
