export { addFirstAdmin, issueFirstAdminCode } from './first-admin.ts';
export { absoluteS, actorOfToken, personOfPin, readMe, type From, type Opened } from './sign-in.ts';
