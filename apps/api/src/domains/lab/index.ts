export { sendDueDigests } from './digest.ts';
export { readReminders } from './reminders.ts';
