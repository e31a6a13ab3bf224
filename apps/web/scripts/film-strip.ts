import { writeFileSync } from 'node:fs';
import { filmColour } from '@huelot/calc';

// Writes the colours of the mark: npx tsx apps/web/scripts/film-strip.ts
const LAST_NM = 165;
const STEP_NM = 5;

const rows: string[] = [];
for (let thicknessNm = 0; thicknessNm <= LAST_NM; thicknessNm += STEP_NM) {
  const { srgb } = filmColour({ system: 'titanium', thicknessNm });
  rows.push(`  { thicknessNm: ${thicknessNm}, srgb: '${srgb.hex}' },`);
}

writeFileSync(
  new URL('../src/lib/ui/layout/film-strip.ts', import.meta.url),
  `/**
 * Colours of an oxide film on titanium against its thickness, seen straight on under D65: the mark of Huelot.
 * Written by \`scripts/film-strip.ts\` from the calculation package; not edited by hand.
 */
export const filmStrip: readonly { thicknessNm: number; srgb: string }[] = [
${rows.join('\n')}
];
`,
);
