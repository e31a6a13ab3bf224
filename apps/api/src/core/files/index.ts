export { getFile, getFileFor, openFile, readFilesFor, toStoredFile, keepFile } from './files.ts';
export { keepFiles, readFiles } from './queries.ts';
