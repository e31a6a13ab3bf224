import type { Db } from '../db/client.ts';
import type { Timeline } from './backdate.ts';
import type { Random } from './chance.ts';
import type { Equipment } from './equipment.ts';
import type { Actors } from './people.ts';

/** How far a job of the history has come by today. */
export type JobStage =
  | 'draft'
  | 'sent'
  | 'lapsed'
  | 'declined'
  | 'ordered'
  | 'received'
  | 'released'
  | 'running'
  | 'held'
  | 'finished'
  | 'passed'
  | 'shipped';

export interface Job {
  part: { id: number; customerId: number };
  recipeRevisionId: number;
  rackId: number;
  supplyId: number;
  quantities: number[];
  picked: number;
  daysAgo: number;
  ending: JobStage;
  /** The enquiry that it answers. */
  enquiryId?: number;
  /** Its lots came out lighter than agreed. */
  drifts?: boolean;
  /** What the shop's currency was worth in the customer's, where that is another. */
  exchangeRateId?: number;
}
/** What every job of the story needs. */
export interface Shop {
  db: Db;
  actors: Actors;
  equipment: Equipment;
  chance: Random;
  story: Timeline;
}

export const HOUR = 3_600_000;
export const DAY = 24 * HOUR;

const order: JobStage[] = [
  'ordered',
  'received',
  'released',
  'running',
  'held',
  'finished',
  'passed',
  'shipped',
];
/** Whether a job came as far as that. */
export const reaches = (job: Job, ending: JobStage) =>
  order.indexOf(job.ending) >= order.indexOf(ending) && order.includes(job.ending);
