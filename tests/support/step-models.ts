/** STEP files (ISO 10303-21, AP214) written here entity by entity, so that their area is known from geometry. */
class Exchange {
  readonly #lines: string[] = [];

  add(entity: string): string {
    this.#lines.push(entity);
    return `#${this.#lines.length}`;
  }

  point = (x: number, y: number, z: number) =>
    this.add(`CARTESIAN_POINT('',(${real(x)},${real(y)},${real(z)}))`);
  direction = (x: number, y: number, z: number) =>
    this.add(`DIRECTION('',(${real(x)},${real(y)},${real(z)}))`);
  axes = (at: string, z: string, x: string) => this.add(`AXIS2_PLACEMENT_3D('',${at},${z},${x})`);

  file(unit: 'mm' | 'inch', solid: string): string {
    const context = this.#context(unit);
    const origin = this.axes(this.point(0, 0, 0), this.direction(0, 0, 1), this.direction(1, 0, 0));
    const shape = this.add(`ADVANCED_BREP_SHAPE_REPRESENTATION('',(${solid},${origin}),${context})`);
    this.#product(shape);
    return [
      'ISO-10303-21;',
      'HEADER;',
      "FILE_DESCRIPTION((''),'2;1');",
      "FILE_NAME('','2026-01-01T00:00:00',(''),(''),'','','');",
      "FILE_SCHEMA(('AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }'));",
      'ENDSEC;',
      'DATA;',
      ...this.#lines.map((line, index) => `#${index + 1}=${line};`),
      'ENDSEC;',
      'END-ISO-10303-21;',
      '',
    ].join('\n');
  }

  #context(unit: 'mm' | 'inch'): string {
    const metre = this.add('(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))');
    const length = unit === 'mm' ? metre : this.#inch(metre);
    const angle = this.add('(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))');
    const solidAngle = this.add('(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())');
    const uncertainty = this.add(
      `UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE(1.E-07),${length},'distance_accuracy_value','')`,
    );
    return this.add(
      `(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT((${uncertainty}))GLOBAL_UNIT_ASSIGNED_CONTEXT((${length},${angle},${solidAngle}))REPRESENTATION_CONTEXT('',''))`,
    );
  }

  #inch(millimetre: string): string {
    const measure = this.add(`LENGTH_MEASURE_WITH_UNIT(LENGTH_MEASURE(25.4),${millimetre})`);
    const exponents = this.add('DIMENSIONAL_EXPONENTS(1.,0.,0.,0.,0.,0.,0.)');
    return this.add(`(CONVERSION_BASED_UNIT('INCH',${measure})LENGTH_UNIT()NAMED_UNIT(${exponents}))`);
  }

  #product(shape: string): void {
    const application = this.add("APPLICATION_CONTEXT('automotive design')");
    const context = this.add(`PRODUCT_CONTEXT('',${application},'mechanical')`);
    const product = this.add(`PRODUCT('part','part','',(${context}))`);
    const formation = this.add(`PRODUCT_DEFINITION_FORMATION('','',${product})`);
    const design = this.add(`PRODUCT_DEFINITION_CONTEXT('part definition',${application},'design')`);
    const definition = this.add(`PRODUCT_DEFINITION('','',${formation},${design})`);
    const shapeOf = this.add(`PRODUCT_DEFINITION_SHAPE('','',${definition})`);
    this.add(`SHAPE_DEFINITION_REPRESENTATION(${shapeOf},${shape})`);
  }
}

const real = (value: number) => (Number.isInteger(value) ? `${value}.` : String(value));

/** A cylinder standing on its base. Its area is 2 π r (r + h), its volume π r² h. */
export function cylinderStep({
  radius: r,
  height: h,
  unit,
}: {
  radius: number;
  height: number;
  unit: 'mm' | 'inch';
}): string {
  const step = new Exchange();
  const up = step.direction(0, 0, 1);
  const x = step.direction(1, 0, 0);
  const [low, high] = [step.point(0, 0, 0), step.point(0, 0, h)].map((at) => step.axes(at, up, x));
  const [start, end] = [step.point(r, 0, 0), step.point(r, 0, h)];
  const [lowVertex, highVertex] = [start, end].map((at) => step.add(`VERTEX_POINT('',${at})`));
  const ring = (axes = '', vertex = '') =>
    step.add(`EDGE_CURVE('',${vertex},${vertex},${step.add(`CIRCLE('',${axes},${real(r)})`)},.T.)`);
  const [lowRing, highRing] = [ring(low, lowVertex), ring(high, highVertex)];
  const line = step.add(`LINE('',${start},${step.add(`VECTOR('',${up},1.)`)})`);
  const seam = step.add(`EDGE_CURVE('',${lowVertex},${highVertex},${line},.T.)`);
  const along = (edge: string, forward: boolean) =>
    step.add(`ORIENTED_EDGE('',*,*,${edge},.${forward ? 'T' : 'F'}.)`);
  const face = (edges: string[], surface: string, outward: boolean) => {
    const bound = step.add(`FACE_OUTER_BOUND('',${step.add(`EDGE_LOOP('',(${edges.join(',')}))`)},.T.)`);
    return step.add(`ADVANCED_FACE('',(${bound}),${surface},.${outward ? 'T' : 'F'}.)`);
  };
  const faces = [
    face([along(lowRing, false)], step.add(`PLANE('',${low ?? ''})`), false),
    face([along(highRing, true)], step.add(`PLANE('',${high ?? ''})`), true),
    face(
      [along(lowRing, true), along(seam, true), along(highRing, false), along(seam, false)],
      step.add(`CYLINDRICAL_SURFACE('',${low ?? ''},${real(r)})`),
      true,
    ),
  ];
  const shell = step.add(`CLOSED_SHELL('',(${faces.join(',')}))`);
  return step.file(unit, step.add(`MANIFOLD_SOLID_BREP('',${shell})`));
}
