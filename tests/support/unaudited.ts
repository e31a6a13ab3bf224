import type * as contracts from '@huelot/contracts';

/** Writes that leave no entry in the audit trail, and why. Every other one leaves it in its own transaction. */
export const unaudited: Partial<Record<keyof typeof contracts, string>> = {
  uploadFile:
    'the row of the file says who sent it and when, and is never changed; a record that takes the file has its entry',
  measureFile: 'a working out: its row says who asked; the part that takes the figure has its entry',
  cancelMeasurement: 'a working out that is given up: its row says so',
  startChainCheck: 'it compares and changes nothing; its own row says who asked and what was found',
  createChainSeal: 'the row of the seal says who made it and when, and is never changed',
  keepStepDraft: 'what is typed and not signed is no part of the record',
  previewNotebook: 'nothing is written',
  previewBankLines: 'nothing is written',
  previewColourFile: 'nothing is written',
  readProcessFile: 'nothing is written',
  beginPasskey: 'a challenge that lives for minutes; what is made with it has its entry',
  beginPasskeyProof: 'a challenge that lives for minutes',
  beginPasskeySignIn: 'a challenge that lives for minutes; the sign-in has its entry',
  beginApp: 'a secret that counts for nothing before it is confirmed, which has its entry',
  proveAgain: 'what is signed with it has its entry, and so has each wrong credential',
};
