import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { filmModel, titaniumSystem } from '../optics/index.ts';
import { CalcError } from '../errors.ts';
import { deltaE2000 } from './delta-e.ts';
import { labToXyz } from './lab.ts';
import { readColourFile } from './read-colour-file.ts';
import { wavelengthsNm } from './spectral-weights.ts';

const film = filmModel(titaniumSystem).colourAt(50);
const step10 = wavelengthsNm.flatMap((nm, i) => (nm % 10 === 0 && nm <= 730 ? [i] : []));
const nms = step10.map((i) => wavelengthsNm[i] ?? NaN);
const values = step10.map((i) => film.reflectance[i] ?? NaN);

const cgats = (fields: string, rows: readonly string[], header = '') =>
  [
    'CGATS.17',
    'ORIGINATOR "Nightingale and daughters"',
    header,
    `NUMBER_OF_FIELDS ${fields.split(/\s+/).length}`,
    ...['BEGIN_DATA_FORMAT', fields, 'END_DATA_FORMAT', `NUMBER_OF_SETS ${rows.length}`],
    ...['BEGIN_DATA', ...rows, 'END_DATA', ''],
  ].join('\r\n');

const ofLab = cgats('SAMPLE_ID SAMPLE_NAME LAB_L LAB_A LAB_B', [
  '1 "blade, left" 41.37 7.90 -30.20',
  '2 "blade ""back""" 40.10 8.15 -29.90 # after polishing',
]);

describe('CGATS.17 and ISO 28178', () => {
  it('reads CIELAB with the name of each place and the conditions of the header', () => {
    const header = [
      'INSTRUMENTATION "Sphere 1"\nMEASUREMENT_GEOMETRY "d/8 SCI"',
      'WEIGHTING_FUNCTION "ILLUMINANT, D65"\nWEIGHTING_FUNCTION "OBSERVER, 2 degree"',
    ].join('\n');
    const file = readColourFile(ofLab.replace('NUMBER_OF_FIELDS', `${header}\nNUMBER_OF_FIELDS`));
    expect(file.readings.map(({ name, lab }) => [name, lab])).toEqual([
      ['blade, left', { L: 41.37, a: 7.9, b: -30.2 }],
      ['blade "back"', { L: 40.1, a: 8.15, b: -29.9 }],
    ]);
    expect(file).toMatchObject({
      ...{ format: 'CGATS', faults: [], ignored: [] },
      conditions: { instrument: 'Sphere 1', geometry: 'd/8 SCI', illuminant: 'D65', observerDeg: 2 },
    });
  });

  it.each([
    ['MEASUREMENT_SOURCE "Illumination=D50 ObserverAngle=10degree"', 'D50', 10],
    ['ILLUMINATION_NAME "D65"\nOBSERVER_ANGLE "2"', 'D65', 2],
    ['', null, null],
  ])('states its light and observer, or that it does not: %s', (header, illuminant, observerDeg) => {
    const file = readColourFile(ofLab.replace('NUMBER_OF_FIELDS', `${header}\nNUMBER_OF_FIELDS`));
    expect(file.conditions).toMatchObject({ illuminant, observerDeg });
  });

  it.each([
    [
      'columns by wavelength',
      `SAMPLE_ID ${nms.map((nm) => `SPECTRAL_NM${nm}`).join(' ')}`,
      `1 ${values.join(' ')}`,
    ],
    ['short names', `SAMPLE_ID ${nms.map((nm) => `NM_${nm}`).join('\t')}`, `1\t${values.join('\t')}`],
    [
      'pairs, decimal',
      `SAMPLE_ID ${nms.map(() => 'SPECTRAL_NM SPECTRAL_DEC').join(' ')}`,
      `1 ${nms.map((nm, i) => `${nm} ${values[i]}`).join(' ')}`,
    ],
    [
      'pairs, per cent',
      `SAMPLE_ID ${nms.map(() => 'SPECTRAL_NM SPECTRAL_PCT').join(' ')}`,
      `1 ${nms.map((nm, i) => `${nm} ${100 * (values[i] ?? NaN)}`).join(' ')}`,
    ],
  ])('a film spectrum by 10 nm is its colour again: %s', (_, fields, row) => {
    const [read] = readColourFile(cgats(fields, [row])).readings;
    expect(read?.spectrum?.wavelengthsNm).toEqual(nms);
    expect(deltaE2000(read?.lab ?? film.lab, film.lab)).toBeLessThan(0.15);
    expect(read?.lab).not.toEqual(film.lab);
  });

  it('a dark spectrum in stated per cent stays dark where all of it is below 1.5', () => {
    const fields = `SAMPLE_ID ${nms.map(() => 'SPECTRAL_NM SPECTRAL_PCT').join(' ')}`;
    const row = `1 ${nms.map((nm) => `${nm} 1.2`).join(' ')}`;
    const [read] = readColourFile(cgats(fields, [row])).readings;
    expect(read?.lab.L).toBeCloseTo(116 * Math.cbrt(0.012) - 16, 6);
  });

  it('the perfect reflector is the white of CIE 15 and ASTM E308: 95.047, 100, 108.883', () => {
    const fields = `SAMPLE_ID ${nms.map((nm) => `SPECTRAL_NM${nm}`).join(' ')}`;
    const [read] = readColourFile(cgats(fields, [`1 ${nms.map(() => '1.0').join(' ')}`])).readings;
    const { X, Y, Z } = labToXyz(read?.lab ?? film.lab);
    // The tables by 1 nm and by 5 nm differ in the third decimal.
    expect(Math.abs(X - 95.047)).toBeLessThan(0.006);
    expect(Y).toBeCloseTo(100, 9);
    expect(Math.abs(Z - 108.883)).toBeLessThan(0.006);
  });

  it('takes the spectrum before CIELAB that was made under another light', () => {
    const fields = `SAMPLE_ID LAB_L LAB_A LAB_B ${nms.map((nm) => `SPECTRAL_NM${nm}`).join(' ')}`;
    const [read] = readColourFile(cgats(fields, [`1 10 50 50 ${values.join(' ')}`])).readings;
    expect(deltaE2000(read?.lab ?? film.lab, film.lab)).toBeLessThan(0.15);
  });

  it.each([
    ['cut short', ofLab.split('\r\n').slice(0, -4).join('\n'), /no whole DATA/],
    ['a set lost', ofLab.replace('NUMBER_OF_SETS 2', 'NUMBER_OF_SETS 3'), /NUMBER_OF_SETS 3/],
    ['a field lost', ofLab.replace('NUMBER_OF_FIELDS 5', 'NUMBER_OF_FIELDS 6'), /NUMBER_OF_FIELDS 6/],
    ['no colour', cgats('SAMPLE_ID CMYK_C', ['1 20']), /LAB_L/],
    ['half a colour', cgats('SAMPLE_ID LAB_L LAB_A', ['1 20 3']), /LAB_L/],
    ['two tables', `${ofLab}\n${ofLab.slice(9)}`, /one table/],
    ['no set', cgats('SAMPLE_ID LAB_L LAB_A LAB_B', []), /no readings/],
  ])('refuses a file with %s', (_, text, message) => {
    expect(() => readColourFile(text)).toThrow(message);
  });

  it('a line shifted by a cell is a fault and is never read askew', () => {
    const file = readColourFile(ofLab.replace('41.37 7.90', '41.37'));
    expect(file.readings.map(({ name }) => name)).toEqual(['blade "back"']);
    expect(file.faults.map(({ line }) => line)).toEqual([10]);
    expect(file.faults[0]?.message).toContain('4 values');
  });
});

describe('CSV', () => {
  it.each([
    ['comma', 'place,L*,a*,b*\n"blade, left",41.37,7.9,-30.2'],
    ['semicolon and decimal comma', 'place;L*;a*;b*\nblade, left;41,37;7,9;-30,2'],
    ['tab', '\uFEFFPlace\tL\ta\tb\r\nblade, left\t41.37\t7.9\t-30.2\r\n'],
    ['heads in another order', 'b*,note,a*,L*,Place\n-30.2,wet,7.9,41.37,"blade, left"'],
  ])('reads the same by its heads: %s', (_, text) => {
    expect(readColourFile(text).readings).toMatchObject([
      { line: 2, name: 'blade, left', lab: { L: 41.37, a: 7.9, b: -30.2 } },
    ]);
  });

  it('reads spectra in per cent and says what it left out', () => {
    const text = [
      ['place', ...nms.map((nm) => `${nm} nm`), 'gloss'].join(';'),
      ['1', ...values.map((value) => String(100 * value).replace('.', ',')), '7'].join(';'),
    ].join('\n');
    const file = readColourFile(text);
    expect(file.ignored).toEqual(['gloss']);
    expect(deltaE2000(file.readings[0]?.lab ?? film.lab, film.lab)).toBeLessThan(0.15);
  });

  it('takes zone and conditions from their columns, and refuses two illuminants in one file', () => {
    const head = 'place,zone,L,a,b,illuminant,observer,geometry,instrument';
    const row = (light: string) => `1,edge,40,8,-30,${light},2°,45/0,Pen 4`;
    const file = readColourFile(
      [head, row('d65'), row('D65').replace('d65', 'D65')].join('\n').replace('d65', 'D65'),
    );
    expect(file.readings[0]?.zone).toBe('edge');
    expect(file.conditions).toEqual({
      ...{ illuminant: 'D65', observerDeg: 2, geometry: '45/0', instrument: 'Pen 4' },
    });
    expect(() => readColourFile([head, row('D65'), row('A')].join('\n'))).toThrow(/one illuminant/);
  });

  it.each([
    ['a lost decimal point', '4137,7.9,-30.2', /at most 100/],
    ['an empty cell', '41.37,,-30.2', /empty cell|number like/],
    ['words', '41.37,red,-30.2', /number like/],
    ['a decimal comma among commas', '41,37,7.9,-30.2', /more cells/],
    ['a cell that parts thousands', '"4,137.0",7.9,-30.2', /number like/],
    ['an infinity', '1e99,0,0', /at most 100/],
  ])('%s is a fault with its line, and the others are read', (_, row, message) => {
    const file = readColourFile(`L,a,b\n40,8,-30\n${row}`);
    expect(file.readings).toHaveLength(1);
    expect(file.faults.map(({ line }) => line)).toEqual([3]);
    expect(file.faults[0]?.message).toMatch(message);
  });

  it.each([
    ['nothing', '', /head line/],
    ['differences taken for colours', 'dL,da,db\n1,2,3', /head line/],
    ['a head twice', 'L,L*,a,b\n1,1,2,3', /each head once/],
    ['a wavelength twice', '400,400 nm\n1,1', /each wavelength once/],
    ['a head alone', 'L,a,b', /no readings/],
    ['more than anybody reads', `L,a,b\n${'40,8,-30\n'.repeat(501)}`, /at most 500/],
  ])('refuses %s', (_, text, message) => {
    expect(() => readColourFile(text)).toThrow(message);
  });

  it('a spectrum that begins at 450 nm is a fault', () => {
    const from450 = nms.filter((nm) => nm >= 450);
    const file = readColourFile(`${from450.join(',')}\n${from450.map(() => '0.2').join(',')}`);
    expect(file.faults[0]?.message).toMatch(/at least 400 to 700 nm/);
  });
});

describe('any text', () => {
  it('is read or refused, and never breaks', () => {
    const piece = fc.constantFrom(
      'CGATS.17\n',
      'BEGIN_DATA\n',
      'END_DATA\n',
      'BEGIN_DATA_FORMAT\n',
      'END_DATA_FORMAT\n',
      'LAB_L ',
      'LAB_A LAB_B\n',
      'L,a,b\n',
      '"',
      ',',
      ';',
      '\t',
      '\n',
      '40',
      '-1.5',
      'SPECTRAL_NM ',
      '380',
      'é',
      '\0',
    );
    fc.assert(
      fc.property(fc.array(fc.oneof(piece, fc.string()), { maxLength: 30 }), (pieces) => {
        try {
          const { readings } = readColourFile(pieces.join(''));
          for (const { lab } of readings)
            expect([lab.L >= 0 && lab.L <= 100, Math.abs(lab.a) <= 200, Math.abs(lab.b) <= 200]).toEqual([
              true,
              true,
              true,
            ]);
        } catch (error) {
          expect(error).toBeInstanceOf(CalcError);
        }
      }),
      { numRuns: 2000 },
    );
  });

  it('written and read again is the same, in both forms', () => {
    const two = (value: number) => Math.round(value * 100) / 100;
    const lab = fc.record({
      L: fc.double({ min: 0, max: 100, noNaN: true }).map(two),
      a: fc.double({ min: -120, max: 120, noNaN: true }).map(two),
      b: fc.double({ min: -120, max: 120, noNaN: true }).map(two),
    });
    fc.assert(
      fc.property(fc.array(lab, { minLength: 1, maxLength: 20 }), (labs) => {
        const rows = labs.map(({ L, a, b }, i) => `${i + 1} ${L.toFixed(2)} ${a.toFixed(2)} ${b.toFixed(2)}`);
        const texts = [
          cgats('SAMPLE_ID LAB_L LAB_A LAB_B', rows),
          `id\tL\ta\tb\n${rows.map((row) => row.replaceAll(' ', '\t').replaceAll('.', ',')).join('\n')}`,
        ];
        for (const text of texts)
          expect(readColourFile(text).readings.map((one) => one.lab)).toEqual(
            labs.map(({ L, a, b }) => ({ L: L + 0, a: a + 0, b: b + 0 })),
          );
      }),
    );
  });
});
