import { describe, expect, it } from 'vitest';
import { importFields, importUnits, matchHead } from './import-fields.ts';

describe('the head of a column', () => {
  it.each([
    ['Part No.', { field: 'number', unit: null }],
    ['Rev', { field: 'revision', unit: null }],
    ['Mass (g)', { field: 'massKg', unit: 'g' }],
    ['weight [LB]', { field: 'massKg', unit: 'lb' }],
    ['area, dm2', { field: 'areaMm2', unit: 'dm2' }],
    ['Surface area (sq in)', { field: 'areaMm2', unit: 'in2' }],
    ['width', { field: 'widthMm', unit: null }],
    ['height (furlong)', { field: 'heightMm', unit: null }],
    ['Price in the year of the dragon', null],
  ])('%s is understood', (head, match) => expect(matchHead('parts', head)).toEqual(match));

  it('of a template is understood, unit and all', () => {
    for (const [kind, fields] of Object.entries(importFields))
      for (const { key, label, measure } of fields) {
        const units = measure === null ? [null] : importUnits[measure];
        for (const unit of units) {
          const head = unit === null ? label : `${label} (${unit.symbols[0] ?? ''})`;
          expect(matchHead(kind as 'parts', head), head).toEqual({ field: key, unit: unit?.key ?? null });
        }
      }
  });
});
