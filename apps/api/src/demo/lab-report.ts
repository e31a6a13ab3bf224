import PDFDocument from 'pdfkit';
import { Readable } from 'node:stream';
import type { Db } from '../db/client.ts';
import { recordAnalysis } from '../lab/analyses/index.ts';
import { keepFile } from '../core/files/index.ts';
import type { Timeline } from './backdate.ts';
import { DAY } from './job.ts';
import type { Actors } from './people.ts';

const laboratory = 'Northmoor Analytical';
const reportNumber = 'NM-26-2291';

/** An outside laboratory, invented as everything here, found what the shop cannot: iron in the caustic bath. */
export async function seedLabReports(
  db: Db,
  { actors, story, bathId, methodId }: { actors: Actors; story: Timeline; bathId: number; methodId: number },
): Promise<void> {
  const actor = actors.lena;
  const sampledAt = Date.now() - 9 * DAY;
  const reportedOn = new Date(sampledAt + 5 * DAY).toISOString().slice(0, 10);
  await story.at(sampledAt + 6 * DAY, async () => {
    const file = await keepFile(db, {
      actor,
      name: `${reportNumber}.pdf`,
      content: Readable.from(paper(reportedOn)),
      isCut: () => false,
    });
    return recordAnalysis(db, {
      actor,
      bathId,
      input: {
        methodId,
        sampledAt: new Date(sampledAt).toISOString(),
        analysedAt: new Date(sampledAt + 4 * DAY).toISOString(),
        why: 'look-back',
        samplePoint: 'middle of the tank',
        volumeL: null,
        agitation: true,
        bathTemperatureC: null,
        readings: {
          kind: 'plain',
          values: [
            {
              component: 'Fe',
              unit: 'gramsPerLitre',
              referenceTemperatureC: 20,
              value: 0.31,
              standardUncertainty: 0.02,
            },
          ],
        },
        titrantId: null,
        instrumentId: null,
        answer: '',
        notes: 'iron is not watched; asked once a year',
        outside: { laboratory, reportNumber, reportedOn, fileId: file.id },
      },
    });
  });
}

function paper(reportedOn: string): PDFKit.PDFDocument {
  const page = new PDFDocument({ size: 'A4' });
  page.fontSize(16).text(laboratory).fontSize(11).moveDown();
  page.text(`Report ${reportNumber}, ${reportedOn}`).moveDown();
  page
    .text('Sample: caustic bath, middle of the tank')
    .text('Iron, total: 0.31 g/L at 20 °C, ± 0.04 (k = 2)');
  page.end();
  return page;
}
