import { SHAPES, shapeArea, type Shape, type ShapeKind } from '@huelot/calc';
import { calculable, type FileMeasure, type Part } from '@huelot/contracts';
import { format } from '$lib/format/format.ts';
import type { Explanation } from '$lib/ui/types.ts';

const area = (mm2: number) => format.quantity('area', mm2);
type Input = Explanation['inputs'][number];

const limits =
  'Racks and hooks draw current too: their bare area is added for each load. The electrical area of bores is common practice, not measured.';

/** How the three areas of a part come about, to be opened beside each figure. */
export function explainAreas(part: Part, measure: FileMeasure | null) {
  const { geometry } = part;
  const found = `Area ${part.areaMethod}; by ${part.areaFoundBy}, ${format.dateTime(part.areaFoundAt)}`;
  const surface = surfaceOf(part, measure);
  const roughness: Input = {
    label: 'Roughness factor k',
    value: String(geometry.roughnessFactor),
    origin: geometry.roughnessFactor === 1 ? 'smooth' : 'coupons of the shop',
  };
  const off: Input[] = [
    { label: 'Masked Aₘ', value: area(geometry.maskedMm2), origin: 'typed' },
    { label: 'Under contacts A꜀', value: area(geometry.contactMm2), origin: 'typed' },
  ];
  const common = { source: `${surface.source} ${found}.`, limits };
  return {
    wetted: {
      label: 'Wetted area',
      formula: `A = (${surface.formula}) · k`,
      inputs: [...surface.inputs, roughness],
      ...common,
    },
    electrical: {
      label: 'Area that draws current',
      formula: 'Aₑ = (reached − Aₘ − A꜀) · k',
      inputs: [
        {
          label: 'Reached by current',
          value: area(
            part.electricalAreaMm2 / geometry.roughnessFactor + geometry.maskedMm2 + geometry.contactMm2,
          ),
          origin: 'bores count to a depth of about one diameter from each opening',
        },
        ...off,
        roughness,
      ],
      ...common,
    },
    coated: {
      label: 'Coated area',
      formula: 'A꜀ₒ = (drawn − Aₘ − A꜀) · k',
      inputs: [
        {
          label: 'Drawn area',
          value: area(part.areaMm2 / geometry.roughnessFactor),
          origin: part.areaMethod,
        },
        ...off,
        roughness,
      ],
      ...common,
    },
  } satisfies Record<string, Explanation>;
}

function surfaceOf({ geometry, areaMethod }: Part, measure: FileMeasure | null) {
  switch (geometry.kind) {
    case 'typed':
      return {
        formula: 'a',
        source: 'A typed figure.',
        inputs: [{ label: 'Area a', value: area(geometry.areaMm2), origin: geometry.origin }],
      };
    case 'shapes':
      return {
        formula: 'Σ n a − 2 Σ n j',
        source: 'Solid geometry; threads by the ISO 68-1 basic profile.',
        inputs: [
          ...geometry.features.map(({ label, shape, count, subtract }, index): Input => {
            const definition = SHAPES[shape.kind as ShapeKind];
            return {
              label: `${count} × ${label || `shape ${index + 1}`}${subtract ? ', cut out' : ''}`,
              value: area(shapeArea(shape as unknown as Shape).areaMm2),
              origin: `one ${definition.label}: ${definition.formula}`,
            };
          }),
          ...geometry.joints.map((joint, index): Input => ({
            label: `${joint.count} × ${joint.label || `joint ${index + 1}`}`,
            value: area(patchMm2(joint)),
            origin: 'one patch, hidden on both sides',
          })),
        ],
      };
    case 'mesh': {
      const input = calculable(geometry, measure);
      const inputs: Input[] =
        input?.kind === 'mesh' && 'areaMm2' in input
          ? [
              {
                label: 'Facets',
                value: String(measure?.facets ?? ''),
                origin: areaMethod,
              },
              { label: 'Sum of the facets', value: area(input.areaMm2), origin: 'corners of the facets' },
            ]
          : [];
      return { formula: 'Σ ½ |(b − a) × (c − a)|', source: 'Vector geometry over the facets.', inputs };
    }
  }
}

type JointOf = Extract<Part['geometry'], { kind: 'shapes' }>['joints'][number];
function patchMm2(joint: JointOf): number {
  if (joint.patch === 'disc') return (Math.PI * joint.diameterMm ** 2) / 4;
  return joint.patch === 'rectangle' ? joint.lengthMm * joint.widthMm : joint.areaMm2;
}
