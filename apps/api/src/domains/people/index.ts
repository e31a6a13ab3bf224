export { issueFirstAdminCode } from './accounts.ts';
export { actorOfToken, personOfPin } from './sign-in.ts';
export { hashSecret } from './secrets.ts';
