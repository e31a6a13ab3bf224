import { createRequire } from 'node:module';
import path from 'node:path';
import { cruise } from 'dependency-cruiser';

/** Looking at fewer modules than this means that the tool did not see the code, not that the code is right. */
const MIN_MODULES = { 'packages/calc': 220, 'packages/contracts': 80, 'apps/api': 330, 'apps/web': 680 };

const root = path.resolve(import.meta.dirname, '..');
process.chdir(root);
const ruleSet = createRequire(import.meta.url)('../.dependency-cruiser.cjs');

const { output } = await cruise(
  Object.keys(MIN_MODULES).map((folder) => `${folder}/src`),
  {
    ruleSet,
    validate: true,
    tsPreCompilationDeps: true,
    combinedDependencies: true,
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '\\$(app|env|service-worker|types)|\\?raw$|/\\.svelte-kit/' },
  },
  {
    alias: { $lib: path.join(root, 'apps/web/src/lib') },
    extensions: ['.ts', '.svelte.ts', '.svelte', '.js', '.mjs', '.cjs', '.json', '.css'],
    exportsFields: ['exports'],
    conditionNames: ['import', 'svelte', 'types', 'node', 'default'],
    mainFields: ['module', 'main', 'types'],
  },
);

const faults = output.summary.violations.map(({ from, to, rule }) => {
  const { comment } = ruleSet.forbidden.find(({ name }) => name === rule.name);
  return `${comment}\n    ${from} -> ${to}`;
});
for (const [folder, floor] of Object.entries(MIN_MODULES)) {
  const seen = output.modules.filter(({ source }) => source.startsWith(`${folder}/src/`)).length;
  if (seen < floor)
    faults.push(`Only ${seen} modules of ${folder} were looked at; there are ${floor} or more.`);
}

for (const fault of faults) console.error(fault);
console.log(
  `${output.summary.totalCruised} modules, ${output.summary.totalDependenciesCruised} imports, ${faults.length} faults`,
);
process.exit(faults.length === 0 ? 0 : 1);
