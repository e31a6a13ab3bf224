export { interrupt, keepReading, resume } from './chamber.ts';
export { observe } from './observe.ts';
export { planTest } from './plan.ts';
export { type ExposureReminder, readExposureReminders } from './reminders.ts';
export { endTest, startTest } from './run.ts';
