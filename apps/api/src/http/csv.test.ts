import { expect, test } from 'vitest';
import { csvFile, csvLine } from './csv.ts';

test.each([
  [['plain', 1.5, null, true], 'plain,1.5,,true\r\n'],
  [['a,b', 'say "x"', 'two\nlines'], '"a,b","say ""x""","two\nlines"\r\n'],
  [['=SUM(A1)', '+1', '-1', '@x', '\tx'], "'=SUM(A1),'+1,'-1,'@x,'\tx\r\n"],
  [[-3, 0, 1e-7], '-3,0,1e-7\r\n'],
])('%j is quoted, its formulas disarmed, its numbers left alone', (cells, line) => {
  expect(csvLine(cells)).toBe(line);
});

test('a spreadsheet showed ’ as â€™: the file did not say that it is UTF-8', () => {
  const headers: unknown[] = [];
  const reply = {
    type: (kind: string) => (headers.push(kind), reply),
    header: (...header: string[]) => (headers.push(header), reply),
  };
  const file = csvFile(reply as never, { name: 'customers', heads: ['name'], rows: [['Meyer’s Söhne']] });
  expect([...Buffer.from(file).subarray(0, 3)]).toEqual([0xef, 0xbb, 0xbf]);
  expect(file).toBe('\uFEFFname\r\nMeyer’s Söhne\r\n');
  expect(headers[0]).toBe('text/csv; charset=utf-8');
});
