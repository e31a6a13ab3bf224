import { filmColour, type Lab } from '@huelot/calc';
import type { Calibration, CouponSeries } from '@huelot/contracts';
import type { Ask } from './app.ts';
import { post } from './lab.ts';

/** What a shop gets whose film is 3 nm at 0 V and grows 2.1 nm per volt; a coupon is some tenths of a nanometre off. */
export const ladderColour = (voltageV: number, offNm = 0): Lab =>
  filmColour({ system: 'titanium', thicknessNm: 3 + 2.1 * voltageV + offNm }).lab;
export const ladder = [10, 18, 26, 34, 42, 50, 60, 70].map((voltageV, index) => ({
  voltageV,
  lab: ladderColour(voltageV, [0.4, -0.3, 0.5, -0.5, 0.2, -0.1, 0.3, -0.4][index]),
}));

const approve = async <T extends { id: number; version: number }>(
  ask: Ask,
  { id, version, path }: T & { path: string },
): Promise<T> => {
  const headers = { 'if-match': `"${version}"` };
  const reply = await ask({ method: 'POST', url: `/api/${path}/${id}/approve`, headers, payload: {} });
  if (reply.statusCode !== 200) throw new Error(reply.body);
  return reply.json<T>();
};

/** An approved series with a coupon for each colour, on a material that goes into a mild salt. */
export async function ladderSeries(
  { writer, approver }: { writer: Ask; approver: Ask },
  {
    code,
    materialId,
    coupons = ladder,
  }: { code: string; materialId: number; coupons?: readonly { voltageV: number; lab: Lab }[] },
): Promise<CouponSeries> {
  const draft = await post<CouponSeries>(writer, '/api/coupon-series', {
    ...{ code, name: `Ladder ${code}`, materialId, contents: 'mild-salt', component: 'Na3PO4' },
    ...{ unit: 'gramsPerLitre', referenceTemperatureC: 20, preparation: 'Ground to 400, etched' },
    ...{ notes: '', changeNote: '' },
    trials: coupons.map(({ voltageV, lab }, index) => ({
      ...{ mark: `${code}-${index + 1}`, temperatureC: 21, voltageV, timeS: 60, strength: 30, lab },
      ...{ outcome: 'interference', madeOn: '2026-01-05', madeBy: 'L. Frost' },
    })),
  });
  return approve(approver, { ...draft, path: 'coupon-series' });
}

/** A calibration of such a series, approved. */
export async function ladderCalibration(
  people: { writer: Ask; approver: Ask },
  { code, materialId }: { code: string; materialId: number },
): Promise<Calibration> {
  const series = await ladderSeries(people, { code: `${code}-L`, materialId });
  const draft = await post<Calibration>(people.writer, '/api/calibrations', {
    ...{ code, name: `Voltage and colour ${code}`, film: 'TiO2_Franta2015', substrate: 'Ti_Johnson1974' },
    ...{ angleDeg: 0, voidFraction: 0, surface: 'ground to 400, etched', notes: '', changeNote: '' },
    ...{ seriesIds: [series.id], rejected: [] },
  });
  return approve(people.approver, { ...draft, path: 'calibrations' });
}
