import { z } from 'zod';
import type { Solute } from '../chemicals.ts';
import { sideOfContents, type TankContents } from '../../catalog/steps.ts';

/** What speaks against putting something into a bath; `not-planned` is any other chemical than the plan's. */
export const MixingStop = z.enum([
  'acid-into-alkali',
  'alkali-into-acid',
  'fluoride-into-acid',
  'acid-into-fluoride',
  'carbonate-into-acid',
  'ammonium-into-alkali',
  'oxidiser-into-organic',
  'unknown-corrosive',
  'water-into-acid',
  'not-planned',
]);
export type MixingStop = z.output<typeof MixingStop>;

/** What then happens. Chemistry and common practice; the safety data sheet decides. */
export const mixingStopWords: Record<MixingStop, string> = {
  'acid-into-alkali': 'acid into an alkaline bath: it boils and spatters where they meet',
  'alkali-into-acid': 'alkali into an acid bath: it boils and spatters where they meet',
  'fluoride-into-acid': 'fluoride into acid: it sets hydrofluoric acid free, which burns deeply and can kill',
  'acid-into-fluoride':
    'acid into a bath with fluoride: it sets hydrofluoric acid free, which burns deeply and can kill',
  'carbonate-into-acid': 'carbonate into acid: it foams over and fills the room with carbon dioxide',
  'ammonium-into-alkali': 'an ammonium salt into an alkaline bath: it drives out ammonia gas',
  'oxidiser-into-organic': 'an oxidiser into something that burns: it may catch fire or burst the tank',
  'unknown-corrosive': 'a corrosive of unknown class: check its safety data sheet first',
  'water-into-acid':
    'water into concentrated acid: it boils and spatters; acid goes into water, never the reverse',
  'not-planned': 'not the planned chemical',
};

/** What a bath is to whatever goes into it. */
export const bathOnHand = ({ contents, solute }: { contents: TankContents; solute: Solute | null }) => ({
  solute,
  side: sideOfContents[contents],
  hasFluoride: contents === 'fluoride-etch',
  isOrganic: contents === 'dye' || contents === 'oil',
});
