export { issue as issueCertificate, readSheet as readCertificateSheet } from './certificates.ts';
