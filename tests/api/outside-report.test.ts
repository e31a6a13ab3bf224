import type { Analysis, NewAnalysis, StoredFile } from '@huelot/contracts';
import { beforeAll, expect, test } from 'vitest';
import { testApp, type Ask } from '../support/app.ts';
import * as lab from '../support/lab.ts';
import { multipart } from '../support/multipart.ts';

let lena: Ask;
let of: lab.EquippedLab;
let methodId = 0;
const { as } = await testApp();
beforeAll(async () => {
  lena = await as('lab');
  of = await lab.equipLab(lena);
  methodId = of.methods.find(({ code }) => code === 'AS-FOUND')?.id ?? 0;
});

const keep = async (name: string, content: string) => {
  const reply = await lena({ method: 'POST', url: '/api/files', ...multipart({ name, content }) });
  expect(reply.statusCode, reply.body).toBe(201);
  return reply.json<StoredFile>();
};
const reported = (outside: NewAnalysis['outside'], value = 0.49): NewAnalysis => ({
  ...lab.titration(of),
  methodId,
  titrantId: null,
  outside,
  readings: {
    kind: 'plain',
    values: [
      {
        component: 'KOH',
        unit: 'massFraction',
        referenceTemperatureC: null,
        value,
        standardUncertainty: 0.002,
      },
    ],
  },
});
const report = { laboratory: 'Northmoor Analytical', reportNumber: 'NM-2291', reportedOn: '2026-01-12' };
const send = (payload: NewAnalysis) =>
  lena({ method: 'POST', url: `/api/baths/${of.bath.id}/analyses`, payload });
const issues = async (payload: NewAnalysis) =>
  (await send(payload)).json<{ issues: { path: string }[] }>().issues.map(({ path }) => path);

test('the report of an outside laboratory stands on the analysis, and its file comes back; a correction has its own', async () => {
  const file = await keep('NM-2291.pdf', '%PDF-1.7\nKOH 49.0 %\n%%EOF\n');
  const made = await lab.post<Analysis>(
    lena,
    `/api/baths/${of.bath.id}/analyses`,
    reported({ ...report, fileId: file.id }),
  );
  expect(made.outside).toEqual({ ...report, file: { id: file.id, name: 'NM-2291.pdf' } });
  expect(made.results).toMatchObject([{ component: 'KOH', value: 0.49, state: 'in-range' }]);
  const content = await lena({ url: `/api/files/${made.outside?.file?.id ?? 0}/content` });
  expect(content.body).toContain('KOH 49.0 %');

  const corrected = await lab.post<Analysis>(lena, `/api/analyses/${made.id}/corrections`, {
    ...reported({ ...report, reportNumber: 'NM-2291 rev B', fileId: null }, 0.488),
    reason: 'the laboratory sent a second edition',
  });
  expect(corrected.outside).toMatchObject({ reportNumber: 'NM-2291 rev B', file: null });
  const first = (await lena({ url: `/api/analyses/${made.id}` })).json<Analysis>();
  expect(first).toMatchObject({
    outside: { reportNumber: 'NM-2291', file: { name: 'NM-2291.pdf' } },
    supersededBy: { number: corrected.number },
  });
});

test('figures of the shop’s own have no report, and a report that cannot be is refused at its field', async () => {
  const own = await lab.analyse(lena, of);
  expect(own.outside).toBeNull();
  const words = await keep('notes.txt', 'KOH 49 %');
  const full = { ...report, fileId: null };
  expect(await issues({ ...lab.titration(of), outside: full })).toEqual(['outside']);
  expect(await issues(reported({ ...full, fileId: words.id }))).toEqual(['outside.fileId']);
  expect(await issues(reported({ ...full, fileId: 999_999 }))).toEqual(['outside.fileId']);
  expect(await issues(reported({ ...full, reportedOn: '2999-01-01' }))).toEqual(['outside.reportedOn']);
  expect(await issues(reported({ ...full, laboratory: ' ' }))).toEqual(['outside.laboratory']);
});
