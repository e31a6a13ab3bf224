import { readColourFile } from '@huelot/calc';
import {
  agreedIn,
  conditionFault,
  Illuminant,
  ObserverDeg,
  type ColourFilePreview,
  type MeasuringConditions,
  type MeasuringGeometry,
  type previewColourFile,
} from '@huelot/contracts';
import type { z } from 'zod';
import type { Queryable } from '../../db/client.ts';
import { readAgreedOfLot } from './agreed.ts';
import { judgeReading, labOfReading } from './judge.ts';
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
  const stated = {
    geometry: geometryOf(conditions.geometry),
    illuminant: Illuminant.safeParse(conditions.illuminant).data ?? null,
    observerDeg: ObserverDeg.safeParse(conditions.observerDeg).data ?? null,
  };
  return {
    ...{ format, faults, ignored, instrument: conditions.instrument ?? '', stated },
    readings: readings.map(({ line, name, zone, lab, spectrum: read }) => {
      const spectrum = read && {
        wavelengthsNm: [...read.wavelengthsNm],
        reflectance: [...read.reflectance],
      };
      // A zone that the part does not have is named when the reading is kept.
      const agreed = agreedIn(agreedOfLot, zone) ?? null;
      const expired = agreed?.expired ?? false;
      const wanted = agreed?.conditions ?? null;
      const seen = labOfReading({ lab, spectrum }, wanted ?? { ...usual, ...withoutNull(stated) });
      const fault =
        spectrum === null ? conditionFault({ ...(wanted ?? usual), ...withoutNull(stated) }, wanted) : null;
      const { judged, verdict } =
        fault !== null || seen === undefined
          ? { judged: null, verdict: null }
          : judgeReading({
              ...{ reading: { grade: 'measured', expandedUncertainty, outcome: null }, lab: seen },
              ...{ agreed, expired, guardFactor },
            });
      return {
        ...{ line, zone, lab: seen ?? lab, place: name, spectrum, judged, verdict },
        standardExpired: expired,
        notComparable: fault === null ? '' : `its ${fieldNames[fault.path]} ${fault.message}`,
      };
    }),
  };
}

/** What figures are of where neither a file nor a standard says. */
const usual: MeasuringConditions = { geometry: 'unstated', illuminant: 'D65', observerDeg: 2 };
const fieldNames = { illuminant: 'illuminant', observerDeg: 'observer', geometry: 'geometry' };
const withoutNull = (stated: { [K in keyof MeasuringConditions]: MeasuringConditions[K] | null }) =>
  Object.fromEntries(
    Object.entries(stated).filter(([, value]) => value !== null),
  ) as Partial<MeasuringConditions>;

/** The geometry that a file states in its own words; null where they say none that is known. */
function geometryOf(words: string | null): MeasuringGeometry | null {
  if (words === null) return null;
  const plain = words.toLowerCase().replaceAll(/[\s°:_/-]/g, '');
  if (plain.includes('45')) return '45-0';
  if (/sce|exclu|spex/.test(plain)) return 'd8-excluded';
  return /sci|inclu|spin/.test(plain) ? 'd8-included' : null;
}
