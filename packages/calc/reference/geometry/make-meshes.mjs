// Writes the mesh and model files of this folder, whose areas and volumes are known in closed form:
//   node packages/calc/reference/geometry/make-meshes.mjs
import { writeFileSync } from 'node:fs';

const box = (l, w, h, [x, y, z] = [0, 0, 0]) => {
  const p = (i) => [x + (i & 1 ? l : 0), y + (i & 2 ? w : 0), z + (i & 4 ? h : 0)];
  const faces = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ];
  return faces.flatMap(([a, b, c, d]) => [
    [p(a), p(b), p(c)],
    [p(a), p(c), p(d)],
  ]);
};

const cylinder = (diameter, length, sides) => {
  const rim = (i, z) => {
    const angle = (2 * Math.PI * (i % sides)) / sides;
    return [(diameter / 2) * Math.cos(angle), (diameter / 2) * Math.sin(angle), z];
  };
  return Array.from({ length: sides }, (_, i) => [
    [rim(i, 0), rim(i + 1, 0), rim(i + 1, length)],
    [rim(i, 0), rim(i + 1, length), rim(i, length)],
    [[0, 0, 0], rim(i + 1, 0), rim(i, 0)],
    [[0, 0, length], rim(i, length), rim(i + 1, length)],
  ]).flat();
};

const binary = (header, facets) => {
  const bytes = Buffer.alloc(84 + 50 * facets.length);
  bytes.write(header, 0, 'latin1');
  bytes.writeUInt32LE(facets.length, 80);
  facets.forEach((facet, i) => facet.flat().forEach((value, k) => bytes.writeFloatLE(value, 96 + 50 * i + 4 * k)));
  return bytes;
};

const text = (name, facets) =>
  [
    `solid ${name}`,
    ...facets.flatMap((corners) => [
      '  facet normal 0 0 0',
      '    outer loop',
      ...corners.map((corner) => `      vertex ${corner.map((value) => value.toExponential(6)).join(' ')}`),
      '    endloop',
      '  endfacet',
    ]),
    `endsolid ${name}`,
    '',
  ].join('\n');

// A box as a boundary representation after ISO 10303-21, with its unit of length: the coordinates alone say nothing.
const step = (name, [l, w, h], unitLines) => {
  const lines = [];
  const add = (entity) => lines.push(entity) && `#${lines.length}`;
  const point = (at) => add(`CARTESIAN_POINT('',(${at.map((v) => v.toFixed(6)).join(',')}))`);
  const direction = (at) => add(`DIRECTION('',(${at.map((v) => v.toFixed(1)).join(',')}))`);
  const corner = (i) => [i & 1 ? l : 0, i & 2 ? w : 0, i & 4 ? h : 0];
  const vertices = [...Array(8).keys()].map((i) => add(`VERTEX_POINT('',${point(corner(i))})`));
  const edges = new Map();
  const edge = (a, b) => {
    const [low, high] = [Math.min(a, b), Math.max(a, b)];
    const key = `${low}-${high}`;
    if (!edges.has(key)) {
      const [from, to] = [corner(low), corner(high)];
      const along = to.map((value, axis) => Math.sign(value - from[axis]));
      const line = add(`LINE('',${point(from)},${add(`VECTOR('',${direction(along)},1.)`)})`);
      edges.set(key, add(`EDGE_CURVE('',${vertices[low]},${vertices[high]},${line},.T.)`));
    }
    return add(`ORIENTED_EDGE('',*,*,${edges.get(key)},${a < b ? '.T.' : '.F.'})`);
  };
  const sides = [
    [[0, 2, 3, 1], [0, 0, -1], [1, 0, 0]],
    [[4, 5, 7, 6], [0, 0, 1], [1, 0, 0]],
    [[0, 1, 5, 4], [0, -1, 0], [1, 0, 0]],
    [[2, 6, 7, 3], [0, 1, 0], [1, 0, 0]],
    [[0, 4, 6, 2], [-1, 0, 0], [0, 1, 0]],
    [[1, 3, 7, 5], [1, 0, 0], [0, 1, 0]],
  ];
  const faces = sides.map(([loop, normal, along]) => {
    const oriented = loop.map((from, i) => edge(from, loop[(i + 1) % 4]));
    const bound = add(`FACE_OUTER_BOUND('',${add(`EDGE_LOOP('',(${oriented.join(',')}))`)},.T.)`);
    const place = `AXIS2_PLACEMENT_3D('',${point(corner(loop[0]))},${direction(normal)},${direction(along)})`;
    return add(`ADVANCED_FACE('',(${bound}),${add(`PLANE('',${add(place)})`)},.T.)`);
  });
  const solid = add(`MANIFOLD_SOLID_BREP('${name}',${add(`CLOSED_SHELL('',(${faces.join(',')}))`)})`);
  const length = unitLines.map(add).at(-1);
  const angle = add('(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))');
  const solidAngle = add('(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())');
  const within = add(`UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE(1.E-06),${length},'distance_accuracy_value','')`);
  const context = add(
    `(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT((${within}))` +
      `GLOBAL_UNIT_ASSIGNED_CONTEXT((${length},${angle},${solidAngle}))REPRESENTATION_CONTEXT('',''))`,
  );
  const origin = add(
    `AXIS2_PLACEMENT_3D('',${point([0, 0, 0])},${direction([0, 0, 1])},${direction([1, 0, 0])})`,
  );
  const form = add(`ADVANCED_BREP_SHAPE_REPRESENTATION('',(${origin},${solid}),${context})`);
  const application = add("APPLICATION_CONTEXT('automotive design')");
  add(`APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',2000,${application})`);
  const product = add(`PRODUCT('${name}','${name}','',(${add(`PRODUCT_CONTEXT('',${application},'mechanical')`)}))`);
  const formation = add(`PRODUCT_DEFINITION_FORMATION('','',${product})`);
  const design = add(`PRODUCT_DEFINITION_CONTEXT('part definition',${application},'design')`);
  const definition = add(`PRODUCT_DEFINITION('design','',${formation},${design})`);
  add(`SHAPE_DEFINITION_REPRESENTATION(${add(`PRODUCT_DEFINITION_SHAPE('','',${definition})`)},${form})`);
  return [
    'ISO-10303-21;',
    'HEADER;',
    "FILE_DESCRIPTION((''),'2;1');",
    `FILE_NAME('${name}','2026-01-01T00:00:00',(''),(''),'','','');`,
    "FILE_SCHEMA(('AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }'));",
    'ENDSEC;',
    'DATA;',
    ...lines.map((line, i) => `#${i + 1}=${line};`),
    'ENDSEC;',
    'END-ISO-10303-21;',
    '',
  ].join('\n');
};

const millimetre = ['(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))'];
// The inch by what it is of a millimetre; `step` numbers lines as it goes, so the two before are counted back from the last.
const inch = (first) => [
  'DIMENSIONAL_EXPONENTS(1.,0.,0.,0.,0.,0.,0.)',
  '(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))',
  `LENGTH_MEASURE_WITH_UNIT(LENGTH_MEASURE(25.4),#${first + 1})`,
  `(CONVERSION_BASED_UNIT('INCH',#${first + 2})LENGTH_UNIT()NAMED_UNIT(#${first}))`,
];
/** Number of lines the box itself takes, before its units. */
const BOX_LINES = step('', [1, 1, 1], ['UNIT']).split('\n').findIndex((line) => line.endsWith('=UNIT;')) - 6;

const corner = [
  [[0, 0, 0], [0, 10, 0], [10, 0, 0]],
  [[0, 0, 0], [10, 0, 0], [0, 0, 10]],
  [[0, 0, 0], [0, 0, 10], [0, 10, 0]],
  [[10, 0, 0], [0, 10, 0], [0, 0, 10]],
];
/** Every corner moved by its own small amount, as exporters do that round each facet for itself. */
const unwelded = (facets, by) =>
  facets.map((facet, i) => facet.map((at, k) => at.map((value, axis) => value + by * ((((i * 7 + k * 3 + axis) % 5) - 2) / 4))));
const turned = (facets) => facets.map(([a, b, c]) => [a, c, b]);

const write = (name, content) => writeFileSync(new URL(name, import.meta.url), content);
write('box_20x30x5.stl', binary('solid box, a binary file whose header begins like a text', box(20, 30, 5)));
write('cylinder_d20_l25_n24.stl', binary('cylinder of 24 sides', cylinder(20, 25, 24)));
write('corner_ascii.stl', text('corner of a cube', corner));
write('box_without_lid.stl', binary('box without its lid', box(20, 30, 5).filter((_, i) => i !== 2 && i !== 3)));
write('box_inside_out.stl', binary('box inside out', turned(box(20, 30, 5))));
write('box_one_facet_turned.stl', binary('one facet turned', box(20, 30, 5).map((f, i) => (i === 4 ? turned([f])[0] : f))));
write('box_unwelded.stl', binary('corners differ by up to 1e-5', unwelded(box(20, 30, 5), 1e-5)));
write('box_hollow.stl', binary('a cavity of 10 x 10 x 2', [...box(20, 30, 5), ...turned(box(10, 10, 2, [5, 5, 1]))]));
write('box_with_slivers.stl', binary('three facets without area', [...box(20, 30, 5), ...box(20, 30, 5).slice(0, 3).map(([a, b]) => [a, b, b])]));
write('box_40x25x10_mm.step', step('box in millimetres', [40, 25, 10], millimetre));
write('box_2x1x0.5_inch.step', step('box in inches', [2, 1, 0.5], inch(BOX_LINES)));
