import type { AgreedColour, Quotation } from '@huelot/contracts';
import { describe, expect, it } from 'vitest';
import { quotationPdf } from '../../apps/api/src/documents/quotation-pdf.ts';
import { readPdf } from '../support/pdf.ts';

const blue: AgreedColour = {
  ...{ standardId: 1, revisionId: 2, code: 'S-14', revision: 2, status: 'approved', name: 'Falkenau blue' },
  ...{
    basis: 'lab-and-sample',
    target: { L: 33, a: 14, b: -46 },
    light: null,
    dark: null,
    instrument: 'SP-1',
  },
  conditions: { geometry: 'd8-included', illuminant: 'D65', observerDeg: 2 },
  tolerance: { from: 'target', deltaE: 4, kL: 1, kC: 1, kH: 1 },
  sample: { name: 'clamp S-14', keptAt: 'drawer 3' },
  ...{ grade: 'measured', agreedBy: 'M. Sand', agreedOn: '2026-03-02', expiresOn: null, unconfirmed: false },
};
const line = (agreedColour: AgreedColour | null): Quotation['shown']['lines'][number] => ({
  ...{ id: 1, position: 1, rackId: null, supplyId: null, inspectionLevel: '', packing: '' },
  part: { id: 1, number: 'FB-120', revision: 'C', description: 'seat clamp', agreedColour, zones: [] },
  recipe: {
    ...{ recipeId: 1, revisionId: 1, number: 'R-1', name: 'Blue', revision: 1, status: 'approved' },
    selfApproved: false,
  },
  ...{ certificate: true, expedite: false, oneOffs: [], piecesPerLoad: 1, bindingLimit: '', areaMm2: 5000 },
  ...{ areaMethod: 'typed', maskedAreaMm2: 0, material: 'Titanium grade 2', massKg: null, specification: '' },
  ...{ materialId: 1, evidence: null, recipeColour: 'deep blue', breaks: [] },
});
async function paper(agreedColour: AgreedColour | null): Promise<string> {
  const quotation: Quotation = {
    ...{ id: 1, number: 'Q-1', version: 1, order: null, enquiry: null, revisions: [] },
    customer: { id: 1, number: 'C-1', name: 'Falkenau' },
    shown: {
      ...{
        id: 1,
        revision: 1,
        status: 'sent',
        contactName: '',
        enquiryReference: '',
        validUntil: '2026-12-31',
      },
      ...{
        leadTimeDays: 10,
        currency: 'EUR',
        exchange: null,
        taxRatePercent: 0,
        terms: '',
        customerNotes: '',
      },
      ...{
        internalNotes: '',
        rateCardId: 1,
        rateCardRevision: 1,
        calcVersion: '1',
        createdBy: 'E',
        version: 1,
      },
      ...{ createdAt: '2026-11-01T08:00:00.000Z', sentAt: '2026-11-01T09:00:00.000Z', sentBy: 'E. Finch' },
      ...{ decidedAt: null, decisionReason: '', lines: [line(agreedColour)] },
    },
  };
  const shop = { name: 'Shop', address: '', contact: '', timeZone: 'Europe/Vienna' };
  const bytes = await quotationPdf({
    ...{ quotation, shop, customer: { address: '', units: 'metric' } },
    sent: { at: '2026-11-01T09:00:00.000Z', by: 'E. Finch' },
  });
  return (await readPdf(bytes))
    .map(({ text }) => text)
    .join(' ')
    .replaceAll(/\s+/g, ' ');
}

describe('a quotation', () => {
  it('promises the tolerance and the certificate of an approved standard, with figures, swatch and caution', async () => {
    const text = await paper(blue);
    expect(text).toContain('Falkenau blue, standard S-14 rev 2, measured with an instrument');
    expect(text).toContain('ΔE00 at most 4 from the target');
    expect(text).toContain('Target: L* 33.0, a* 14.0, b* −46.0');
    expect(text).toContain('Screens and paper do not show colour');
    expect(text).toContain('certificate of conformance');
    expect(text).not.toContain('does not cover colour');
  });

  it.each([
    ['that nobody agreed to', null, 'deep blue, in words only'],
    ['whose standard is a draft', { ...blue, status: 'draft' as const }, 'not agreed and approved yet'],
    [
      'whose standard runs out before the offer',
      { ...blue, expiresOn: '2026-12-01' },
      'before this offer ends',
    ],
    [
      'that nobody confirmed since it was taken over',
      { ...blue, unconfirmed: true },
      'Colour subject to a first article: what was agreed is not confirmed',
    ],
    ['whose standard was retired', { ...blue, status: 'retired' as const }, 'not agreed and approved yet'],
  ])('promised a tolerance and a certificate for a colour %s', async (_, colour, words) => {
    const text = await paper(colour);
    expect(text).toContain(words);
    expect(text).toContain('no tolerance is promised');
    expect(text).not.toContain('ΔE00 at most');
    expect(text).toContain('certificate of conformance, which does not cover colour');
  });

  it('promised figures for a colour that two people compare with a sample', async () => {
    const text = await paper({ ...blue, target: null, tolerance: null, conditions: null, grade: 'compared' });
    expect(text).toContain('Two people compare with the sample: clamp S-14, kept drawer 3');
    expect(text).not.toContain('ΔE00');
  });
});
