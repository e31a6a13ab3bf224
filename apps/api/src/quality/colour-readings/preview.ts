import { readColourFile } from '@huelot/calc';
import {
  agreedIn,
  Illuminant,
  ObserverDeg,
  type ColourFilePreview,
  type MeasuringGeometry,
  type previewColourFile,
} from '@huelot/contracts';
import type { z } from 'zod';
import type { Queryable } from '../../db/client.ts';
import { readAgreedOfLot } from './agreed.ts';
import { judgeReading } from './judge.ts';
import * as queries from './queries.ts';

/** Reads a file of an instrument and judges each line as it would be if it were kept. */
export async function previewFile(
  db: Queryable,
  { lotId, input }: { lotId: number; input: z.output<typeof previewColourFile.body> },
): Promise<z.input<typeof ColourFilePreview>> {
  const agreedOfLot = await readAgreedOfLot(db.execute, lotId);
  const { guardFactor } = await queries.readRule(db);
  const { expandedUncertainty } = input;
  const { format, conditions, readings, faults, ignored } = readColourFile(input.text);
  return {
    ...{ format, faults, ignored, instrument: conditions.instrument ?? '' },
    stated: {
      geometry: geometryOf(conditions.geometry),
      illuminant: Illuminant.safeParse(conditions.illuminant).data ?? null,
      observerDeg: ObserverDeg.safeParse(conditions.observerDeg).data ?? null,
    },
    readings: readings.map(({ line, name, zone, lab, spectrum }) => {
      // A zone that the part does not have is named when the reading is kept.
      const agreed = agreedIn(agreedOfLot, zone) ?? null;
      const expired = agreed?.expired ?? false;
      return {
        ...{ line, zone, lab, place: name },
        spectrum: spectrum && {
          wavelengthsNm: [...spectrum.wavelengthsNm],
          reflectance: [...spectrum.reflectance],
        },
        ...judgeReading({
          ...{ reading: { grade: 'measured', expandedUncertainty, outcome: null }, lab, guardFactor },
          agreed,
          expired,
        }),
        standardExpired: expired,
      };
    }),
  };
}

/** The geometry that a file states in its own words; null where they say none that is known. */
function geometryOf(words: string | null): MeasuringGeometry | null {
  if (words === null) return null;
  const plain = words.toLowerCase().replaceAll(/[\s°:_/-]/g, '');
  if (plain.includes('45')) return '45-0';
  if (/sce|exclu|spex/.test(plain)) return 'd8-excluded';
  return /sci|inclu|spin/.test(plain) ? 'd8-included' : null;
}
