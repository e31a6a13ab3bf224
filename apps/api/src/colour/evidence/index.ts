export { checkEvidence } from './approval-gate.ts';
export { citeSeries } from './cite.ts';
export { readExceptionsOfLot, readSignatureWord } from './exception-queries.ts';
export { passGate, proveWord, type ProvedWord } from './gate.ts';
export { judgeEvidence } from './judge.ts';
export { citeLot } from './cite-lot.ts';
export { readMeasured, readProvedColours, type ProvedColour, type ProvedRevision } from './proved-colours.ts';
export { readProofOfLot } from './queries.ts';
