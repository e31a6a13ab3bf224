export { askForCertificate, readCertificateEvents } from './queries.ts';
export { issue as issueCertificate, readSheet as readCertificateSheet } from './certificates.ts';
