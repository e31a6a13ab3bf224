import type { ImpactAssessment } from '@huelot/contracts';
import type { Cell } from '../../http/csv.ts';
import type { ItemRow } from './queries.ts';

export const itemHeads = [
  ...['number', 'state', 'about', 'reason', 'owner', 'due', 'days overdue'],
  ...['lots', 'judged', 'affected', 'opened by', 'opened at (UTC)'],
];
export const itemLines = (row: ItemRow): Cell[][] => [
  [
    ...[row.number, row.state, row.aboutName, row.reason, row.owner.name, row.dueOn, row.overdueDays],
    ...[row.lots, row.judged, row.affected, row.openedBy, row.openedAt.toISOString()],
  ],
];

export const lotHeads = [
  ...['lot', 'customer', 'order', 'part', 'pieces', 'shipped', 'certificates', 'bound by'],
  ...['judged', 'why', 'judged by', 'judged at (UTC)', 'on hold', 'nonconformances'],
];
/** A line for each lot under assessment. */
export const lotLines = (lot: ImpactAssessment['assessed'][number]): Cell[][] => {
  const judgement = lot.judgements.at(-1);
  const { number, customer, order, part, quantity, certificates } = lot.facts;
  return [
    [
      ...[number, customer.name, order.number, part, quantity, lot.shippedCount],
      certificates.map((one) => one.number).join(' '),
      lot.ties.map(({ label }) => label).join('; ') || lot.why,
      judgement === undefined ? '' : judgement.affected ? 'affected' : 'not affected',
      ...[judgement?.text ?? '', judgement?.by ?? '', judgement?.at ?? ''],
      ...[lot.held, lot.nonconformances.map((one) => one.number).join(' ')],
    ],
  ];
};
