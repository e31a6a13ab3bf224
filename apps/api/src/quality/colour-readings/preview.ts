import { readColourFile } from '@huelot/calc';
import {
  Illuminant,
  ObserverDeg,
  type ColourFilePreview,
  type MeasuringGeometry,
  type previewColourFile,
} from '@huelot/contracts';
import type { z } from 'zod';
import { readStandardOfPart } from '../../catalog/colour-standards/index.ts';
import type { Queryable } from '../../db/client.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { judgeReading } from './judge.ts';
import * as queries from './queries.ts';

/** Reads a file of an instrument and judges each line as it would be if it were kept. */
export async function previewFile(
  db: Queryable,
  { lotId, input }: { lotId: number; input: z.output<typeof previewColourFile.body> },
): Promise<z.input<typeof ColourFilePreview>> {
  const lot = orNotFound(await queries.readLotFacts(db.execute, lotId, { lock: false }), `lot ${lotId}`);
  const agreed = await readStandardOfPart(db.execute, lot.partId);
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
    readings: readings.map(({ line, name, zone, lab, spectrum }) => ({
      ...{ line, zone, lab, place: name },
      spectrum: spectrum && {
        wavelengthsNm: [...spectrum.wavelengthsNm],
        reflectance: [...spectrum.reflectance],
      },
      ...judgeReading({
        ...{ reading: { grade: 'measured', expandedUncertainty, outcome: null }, lab, agreed, guardFactor },
      }),
    })),
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
