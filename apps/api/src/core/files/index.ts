export { getFile, getFileFor, openFile, readFilesFor, toStoredFile, keepBytes, keepFile } from './files.ts';
export { keepFiles, readFiles } from './queries.ts';
export { readPictureSize } from './picture-size.ts';
