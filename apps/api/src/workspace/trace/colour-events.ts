import { unconfirmedStatement, type LotColour, type TraceEvent } from '@huelot/contracts';
import type { z } from 'zod';

type Event = z.input<typeof TraceEvent>;
type Reading = z.input<typeof LotColour>['readings'][number];

const verdicts = { pass: 'as agreed', warn: 'near the limit', hold: 'beyond the limit' };

/** Colour readings of a lot, as its time line tells them. */
export const colourEvents = (readings: readonly Reading[]): Event[] =>
  readings.map((reading) => ({
    at: reading.readAt,
    kind: 'reading',
    title: titleOf(reading),
    by: [reading.readBy, reading.secondBy].filter(Boolean).join(' and '),
    detail: [
      reading.lab &&
        `L* ${reading.lab.L.toFixed(1)}, a* ${reading.lab.a.toFixed(1)}, b* ${reading.lab.b.toFixed(1)}`,
      reading.verdict !== null && reading.standard?.unconfirmed && `standard ${unconfirmedStatement}`,
      reading.judged &&
        `dE ${reading.judged.deltaE.toFixed(1)} from ${reading.standard?.code ?? 'what was agreed'}, limit ${reading.judged.limit}`,
      reading.instrument &&
        `${reading.instrument}${reading.instrumentOverdue ? ', calibration overdue' : ''}`,
      reading.note,
      reading.reason,
    ]
      .filter(Boolean)
      .join('; '),
    signOffId: null,
  }));

function titleOf({ zone, place, withdrawn, correctsId, verdict, standardExpired }: Reading): string {
  const where = [zone, place].filter(Boolean).join(', ') || 'the piece';
  if (withdrawn) return `Colour reading of ${where} withdrawn`;
  const what = correctsId === null ? 'Colour read' : 'Colour reading corrected';
  return `${what}, ${where}: ${verdict === null ? 'not judged' : standardExpired ? 'held, the standard had expired' : verdicts[verdict]}`;
}
