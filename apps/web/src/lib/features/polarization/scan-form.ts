import { equivalentWeight } from '@huelot/calc';
import type {
  BaseMetal,
  Material,
  NewPolarizationScan,
  PolarizationScan,
  ScanFinish,
} from '@huelot/contracts';
import { readTable, guessDecimal } from '../table-import/text-table.ts';
import { format } from '$lib/format/format.ts';

/** A scan as it is typed. */
export interface ScanValues {
  materialId: number | null;
  finish: ScanFinish;
  specimen: string;
  film: string;
  medium: string;
  temperatureC: number | null;
  scannedOn: string;
  areaMm2: number | null;
  solutionResistanceOhm: number | null;
  windowMv: number;
  sternGearyV: number | null;
  equivalentWeight: number | null;
  /** Lines of potential and current. */
  text: string;
  fileName: string;
  note: string;
  reason: string;
}

const dissolving: Partial<Record<BaseMetal, Parameters<typeof equivalentWeight>[0]['composition']>> = {
  steel: [{ element: 'Fe', massFraction: 1 }],
  titanium: [{ element: 'Ti', massFraction: 1 }],
  niobium: [{ element: 'Nb', massFraction: 1 }],
  tantalum: [{ element: 'Ta', massFraction: 1 }],
  zirconium: [{ element: 'Zr', massFraction: 1 }],
  aluminium: [{ element: 'Al', massFraction: 1 }],
};
/** Of the pure metal, to begin with: alloying moves it by a few per cent (ASTM G102). Null where none is at hand. */
export function usualEquivalentWeight(baseMetal: BaseMetal): number | null {
  const composition = dissolving[baseMetal];
  return composition === undefined ? null : Number(equivalentWeight({ composition }).toFixed(2));
}

export const emptyScan = (material: Material | undefined): ScanValues => ({
  ...{
    materialId: material?.id ?? null,
    finish: 'bare',
    specimen: '',
    film: '',
    medium: '',
    temperatureC: null,
  },
  ...{
    scannedOn: format.today(),
    areaMm2: null,
    solutionResistanceOhm: null,
    windowMv: 10,
    sternGearyV: 0.026,
  },
  equivalentWeight: material === undefined ? null : usualEquivalentWeight(material.baseMetal),
  ...{ text: '', fileName: '', note: '', reason: '' },
});

export function scanValues(scan: PolarizationScan): ScanValues {
  const { finish, specimen, film, medium, temperatureC, scannedOn, areaMm2, solutionResistanceOhm } = scan;
  const { sternGearyV, equivalentWeight, fileName, note } = scan;
  const lines = scan.points.map(({ potentialV, currentA }) => `${potentialV};${currentA}`);
  return {
    ...{ finish, specimen, film, medium, temperatureC, scannedOn, areaMm2, solutionResistanceOhm },
    ...{ sternGearyV, equivalentWeight, fileName, note },
    materialId: scan.material.id,
    windowMv: Math.round(scan.windowV * 1000),
    text: ['potential;current', ...lines].join('\n'),
    reason: '',
  };
}

export type ScanPoints = NewPolarizationScan['points'];

/**
 * Lines of potential in volts and current in amperes, under a line of heads: the two columns are found by their names,
 * otherwise they are the first two. What cannot be read is said by line.
 *
 * @example
 * readPoints('E/V;I/A\n-0,46;-8e-6') // { points: [{ potentialV: -0.46, currentA: -8e-6 }], fault: '' }
 */
export function readPoints(text: string): { points: ScanPoints; fault: string } {
  if (text.trim() === '') return { points: [], fault: '' };
  const table = readTable(text);
  if ('fault' in table) return { points: [], fault: table.fault };
  if (table.columns.every((head) => head !== '' && Number.isFinite(numberIn(head, guessDecimal(table)))))
    return { points: [], fault: 'The first line must name the columns: potential;current.' };
  const find = (pattern: RegExp, usual: number) => {
    const index = table.columns.findIndex((head) => pattern.test(head));
    return index < 0 ? usual : index;
  };
  const [potential, current] = [find(/^(e\b|ewe|potential|voltage)/i, 0), find(/^(i\b|current)/i, 1)];
  const decimal = guessDecimal(table);
  const points: ScanPoints = [];
  for (const [index, row] of table.rows.entries()) {
    const potentialV = numberIn(row[potential] ?? '', decimal);
    const currentA = numberIn(row[current] ?? '', decimal);
    if (!Number.isFinite(potentialV) || !Number.isFinite(currentA))
      return { points: [], fault: `Line ${index + 2} holds no potential and current: ${row.join(' ')}` };
    points.push({ potentialV, currentA });
  }
  return { points, fault: '' };
}

function numberIn(cell: string, decimal: 'point' | 'comma'): number {
  const plain = cell.trim().replace('−', '-');
  return plain === '' ? NaN : Number(decimal === 'comma' ? plain.replace(',', '.') : plain);
}

/** As the service takes it; what is missing is left for it to name. */
export function bodyOf({ text, windowMv, reason: _, ...values }: ScanValues): NewPolarizationScan {
  const { points } = readPoints(text);
  return {
    ...values,
    film: values.finish === 'bare' ? '' : values.film,
    windowV: windowMv / 1000,
    points,
  } as NewPolarizationScan;
}
