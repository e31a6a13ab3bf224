export { sendDueDigests } from './digest.ts';
export { readWatchedBaths } from './queries.ts';
export { readReminders } from './reminders.ts';
