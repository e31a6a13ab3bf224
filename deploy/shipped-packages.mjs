import path from 'node:path';
import { root } from './run-quietly.mjs';

/**
 * A plugin of Vite that writes `.vite/packages.json` into a build: which packages are inside, as places in the lockfile,
 * so that `npm run notices` puts their licences with those of the packages a server installs.
 *
 * @param workspace the folder that is built
 */
export const shippedPackages = (workspace) => ({
  name: 'shipped-packages',
  generateBundle(_options, bundle) {
    // Scripts are made of modules, fonts and styles of files.
    const sources = Object.values(bundle).flatMap((output) =>
      output.type === 'chunk' ? Object.keys(output.modules) : output.originalFileNames,
    );
    const places = sources.map((source) => placeOf(source, workspace)).filter((place) => place !== undefined);
    this.emitFile({
      type: 'asset',
      fileName: '.vite/packages.json',
      source: JSON.stringify([...new Set(places)].sort(), null, 2),
    });
  },
});

/** `node_modules/a/node_modules/@b/c` of a file inside it; none for our own. */
function placeOf(source, workspace) {
  const file = path.resolve(workspace, source.replace(/^\0+/, '').replace(/\?.*$/, ''));
  return /^(?:.*\/)?node_modules\/(?:@[^/]+\/)?[^/]+/.exec(path.relative(root, file))?.[0];
}
