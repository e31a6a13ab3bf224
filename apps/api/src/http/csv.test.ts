import { expect, test } from 'vitest';
import { csvLine } from './csv.ts';

test.each([
  [['plain', 1.5, null, true], 'plain,1.5,,true\r\n'],
  [['a,b', 'say "x"', 'two\nlines'], '"a,b","say ""x""","two\nlines"\r\n'],
  [['=SUM(A1)', '+1', '-1', '@x', '\tx'], "'=SUM(A1),'+1,'-1,'@x,'\tx\r\n"],
  [[-3, 0, 1e-7], '-3,0,1e-7\r\n'],
])('%j', (cells, line) => {
  expect(csvLine(cells)).toBe(line);
});
