export { answerByQuotation, askTrial, declineEnquiry, reopenForDiscarded } from './decisions.ts';
export { addEnquiry } from './enquiries.ts';
