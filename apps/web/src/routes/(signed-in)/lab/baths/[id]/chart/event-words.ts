import type { BathChart } from '@huelot/contracts';

export type EventKind = BathChart['events'][number]['kind'];

export const eventNames: Record<EventKind, string> = {
  'make-up': 'made up',
  chemical: 'chemical added',
  water: 'water topped up',
  decant: 'decanted',
  filter: 'filtered',
  dye: 'dye added',
  electrode: 'electrodes changed',
  dump: 'dumped',
};

/** Where a record about an event is read. */
export const eventHref = ({ kind, id }: BathChart['events'][number], bathId: number): string =>
  kind === 'make-up' || kind === 'dump' ? `/lab/baths/${bathId}` : `/lab/additions/${id}`;

/** What changes how strong a bath is, so that a drift is not read across it. */
export const changesStrength = (kind: EventKind): boolean =>
  kind === 'chemical' || kind === 'dye' || kind === 'decant' || kind === 'make-up' || kind === 'water';
