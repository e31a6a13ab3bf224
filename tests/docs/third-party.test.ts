import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { builtInOf, noticesFile, thirdPartyNotices } from '../../deploy/third-party.mjs';

interface Locked {
  version: string;
  resolved?: string;
  integrity?: string;
  license?: string;
  link?: boolean;
  dev?: boolean;
  hasInstallScript?: boolean;
}
interface Component {
  name: string;
  version: string;
  'bom-ref': string;
}

const root = path.resolve(import.meta.dirname, '../..');
const read = <T>(file: string) => JSON.parse(readFileSync(path.join(root, file), 'utf8')) as T;
const { packages } = read<{ packages: Record<string, Locked> }>('package-lock.json');
const locked = Object.entries(packages).filter(
  ([place, { link }]) => place.includes('node_modules/') && link !== true,
);
const notices = readFileSync(noticesFile, 'utf8');

describe('third-party notices', () => {
  it('were of other packages than the lockfile names: run npm run notices', () => {
    expect(notices).toBe(thirdPartyNotices(builtInOf(notices)));
  });

  it('name every package that a server installs, and those in the pages', () => {
    const shipped = locked.filter(([, { dev }]) => dev !== true);
    expect(shipped.length).toBeGreaterThan(100);
    const names = new Set(notices.split('\n').map((line) => line.split('  ')[0]));
    expect(shipped.map(([place]) => place).filter((place) => !names.has(place))).toEqual([]);
    expect(builtInOf(notices)).toContain('node_modules/svelte');
    expect(builtInOf(notices)).toContain('node_modules/@fontsource-variable/atkinson-hyperlegible-next');
  });

  it('said nothing of a licence that docs/licences.md does not explain', () => {
    const explained = readFileSync(path.join(root, 'docs/licences.md'), 'utf8');
    const free =
      /^(MIT|MIT-0|ISC|0BSD|BSD-[23]-Clause|Apache-2\.0|BlueOak-1\.0\.0|OFL-1\.1|MIT AND OFL-1\.1)$/;
    const names = new Set(notices.split('\n').map((line) => line.split('  ')[0]));
    const unusual = locked
      .filter(([place, { license }]) => names.has(place) && !free.test(license ?? ''))
      .map(([place]) => place.slice(place.lastIndexOf('node_modules/') + 'node_modules/'.length));
    expect(unusual.length).toBeGreaterThan(0);
    expect(unusual.filter((name) => !explained.includes(`\`${name}\``))).toEqual([]);
  });
});

describe('the lockfile', () => {
  it('took a package without saying what it must hash to', () => {
    expect(locked.length).toBeGreaterThan(500);
    const unchecked = locked.filter(([, { integrity }]) => !/^sha512-[\w+/]{86}==$/.test(integrity ?? ''));
    expect(unchecked.map(([place]) => place)).toEqual([]);
  });

  it('took a package from somewhere else than the registry', () => {
    // Without an address npm asks the registry it is set to.
    const elsewhere = locked.filter(
      ([, { resolved, version }]) =>
        !/^\d+\.\d+\.\d+/.test(version) || !(resolved ?? registry).startsWith(registry),
    );
    expect(elsewhere.map(([place]) => place)).toEqual([]);
  });

  it('had a package whose install script nobody decided on', () => {
    const { allowScripts } = read<{ allowScripts: Record<string, boolean> }>('package.json');
    const scripted = locked
      .filter(([, { hasInstallScript }]) => hasInstallScript === true)
      .map(([place]) => place.slice(place.lastIndexOf('node_modules/') + 'node_modules/'.length));
    expect(scripted.length).toBeGreaterThan(0);
    expect(scripted.filter((name) => allowScripts[name] === undefined)).toEqual([]);
  });
});
const registry = 'https://registry.npmjs.org/';

describe('the list of components', () => {
  const bom = JSON.parse(
    execFileSync('npm', ['run', '--silent', 'sbom'], {
      cwd: root,
      encoding: 'utf8',
      maxBuffer: 64 * 1024 * 1024,
    }),
  ) as {
    bomFormat: string;
    specVersion: string;
    components: Component[];
    dependencies: { ref: string; dependsOn: string[] }[];
  };

  it('is CycloneDX, each component once and every dependency among them', () => {
    expect(bom).toMatchObject({
      bomFormat: 'CycloneDX',
      specVersion: expect.stringMatching(/^1\.\d$/) as string,
    });
    const refs = new Set(bom.components.map((component) => component['bom-ref']));
    expect(refs.size).toBe(bom.components.length);
    const unknown = bom.dependencies.flatMap(({ dependsOn }) => dependsOn.filter((ref) => !refs.has(ref)));
    expect(unknown).toEqual([]);
  });

  it('left out something that is shipped', () => {
    const listed = new Set(bom.components.map(({ name, version }) => `${name}@${version}`));
    const named = (place: string) => place.slice(place.lastIndexOf('node_modules/') + 'node_modules/'.length);
    const builtIn = builtInOf(notices);
    const missing = locked
      .filter(([place, { dev }]) => dev !== true || builtIn.includes(place))
      .map(([place, { version }]) => `${named(place)}@${version}`)
      .filter((component) => !listed.has(component));
    expect(missing).toEqual([]);
  });
});
