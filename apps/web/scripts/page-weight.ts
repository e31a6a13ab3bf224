import { readFileSync, statSync } from 'node:fs';

interface Chunk {
  file: string;
  imports?: string[];
  dynamicImports?: string[];
}

export interface PageWeight {
  route: string;
  /** All script that is fetched unasked, gzip: also what arrives after the words, as the top bar and the charts do. */
  bytes: number;
}

const web = new URL('../', import.meta.url);
const generated = '.svelte-kit/generated/client-optimized';
/** Fetched only when something happens: a dialog, a menu, a tab, a signed colour step, a step is corrected, a part is chosen on a quotation, a customer pays in another currency, work is refused for want of competence, a list of choices or the search opens, a passkey is asked for, or the sign-in ends under an open page. */
const ON_DEMAND = new Set([
  '../../node_modules/@simplewebauthn/browser/esm/index.js',
  'src/lib/features/colour-catalogue/ColourChooser.svelte',
  'src/lib/features/colour-readings/ColourChart.svelte',
  'src/lib/features/colour-readings/ImportDialog.svelte',
  'src/lib/features/colour-readings/LotColourPanel.svelte',
  'src/lib/features/colour-readings/ReadingDialog.svelte',
  'src/lib/features/competence/CompetenceGate.svelte',
  'src/lib/features/evidence/EvidenceTab.svelte',
  'src/lib/features/evidence/FirstArticleDialog.svelte',
  'src/lib/features/lots/LotDialogs.svelte',
  'src/lib/features/lots/ReissueDialog.svelte',
  'src/lib/features/processes/ProvenanceTab.svelte',
  'src/lib/features/quotation-form/ExchangeChoice.svelte',
  'src/lib/features/quotation-form/VoltageReachLine.svelte',
  'src/lib/features/tankside/HoldDialog.svelte',
  'src/lib/features/tankside/StepCorrections.svelte',
  'src/lib/shell/GlobalSearchList.svelte',
  'src/lib/shell/SignInAgain.svelte',
  'src/lib/ui/fields/ComboPopup.svelte',
  'src/lib/ui/overlay/DialogWindow.svelte',
  'src/lib/ui/overlay/MenuPopup.svelte',
]);
/** The root layout and the root error page come with every page. */
const ALWAYS = [0, 1];

/**
 * The compressed script of every page at its first load, heaviest first, from the manifest of the last build.
 *
 * @example
 * pageWeights() // [{ route: '/quotations/[id]', bytes: 151_000 }, ...]
 */
export function pageWeights(): PageWeight[] {
  const manifest = JSON.parse(read('.svelte-kit/output/client/.vite/manifest.json')) as Record<string, Chunk>;
  const entries = Object.keys(manifest).filter(
    (name) => name.endsWith('/client/entry.js') || name === `${generated}/app.js`,
  );
  if (entries.length !== 2)
    throw new Error(`Expected the two entries of SvelteKit, found ${entries.join(', ')}`);
  return [...routes()]
    .map(([route, nodes]) => {
      const roots = [...entries, ...[...ALWAYS, ...nodes].map((node) => `${generated}/nodes/${node}.js`)];
      const files = [...reachable(manifest, roots)];
      return { route, bytes: files.reduce((sum, file) => sum + statSync(at(`build/${file}.gz`)).size, 0) };
    })
    .sort((a, b) => b.bytes - a.bytes);
}

/** Which layouts, errors and page make up each route, as SvelteKit's own table says. */
function routes(): Map<string, number[]> {
  const table = /dictionary = \{([^}]*)\}/.exec(read(`${generated}/app.js`))?.[1] ?? '';
  const rows = table.matchAll(/"([^"]+)": (\[.*\])/g);
  return new Map(
    [...rows].map(([, route = '', nodes = '']) => [
      route.replace('/(signed-in)', ''),
      [...nodes.matchAll(/\d+/g)].map(([digits]) => Number(digits)),
    ]),
  );
}

function reachable(manifest: Record<string, Chunk>, roots: string[]): Set<string> {
  const seen = new Set<string>();
  const waiting = [...roots];
  const files = new Set<string>();
  for (let name = waiting.pop(); name !== undefined; name = waiting.pop()) {
    if (seen.has(name)) continue;
    seen.add(name);
    const chunk = manifest[name];
    if (!chunk) throw new Error(`The manifest of the build does not know ${name}: build again.`);
    files.add(chunk.file);
    waiting.push(...(chunk.imports ?? []));
    // The table of the app names every page; a page fetches only itself.
    if (name !== `${generated}/app.js`) {
      waiting.push(...(chunk.dynamicImports ?? []).filter((later) => !ON_DEMAND.has(later)));
    }
  }
  return files;
}

const at = (file: string) => new URL(file, web);
const read = (file: string) => readFileSync(at(file), 'utf8');
