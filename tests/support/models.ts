/** Model files written here, so that their area is known from geometry and from nowhere else. */
type Point = readonly [x: number, y: number, z: number];
type Facet = readonly [Point, Point, Point];

/** The twelve facets of a box, counter-clockwise seen from outside. Its area is 2 (x y + y z + x z). */
export function boxFacets(x: number, y: number, z: number): Facet[] {
  const corner = (bits: number): Point => [bits & 1 ? x : 0, bits & 2 ? y : 0, bits & 4 ? z : 0];
  const sides = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ] as const;
  return sides.flatMap(([a, b, c, d]): Facet[] => [
    [corner(a), corner(b), corner(c)],
    [corner(a), corner(c), corner(d)],
  ]);
}

/** The same surface seen from inside. */
export const turned = (facets: readonly Facet[]): Facet[] => facets.map(([a, b, c]) => [a, c, b]);

/** Binary STL; normals are left zero, as many writers leave them. */
export function binaryStl(facets: readonly Facet[], header = 'written by a test'): Buffer {
  const bytes = Buffer.alloc(84 + 50 * facets.length);
  bytes.write(header, 'latin1');
  bytes.writeUInt32LE(facets.length, 80);
  facets.forEach((facet, index) =>
    facet.flat().forEach((value, i) => bytes.writeFloatLE(value, 84 + 50 * index + 12 + 4 * i)),
  );
  return bytes;
}

export const textStl = (facets: readonly Facet[]): string =>
  [
    'solid box',
    ...facets.map(
      (facet) =>
        `facet normal 0 0 0\nouter loop\n${facet.map((point) => `vertex ${point.join(' ')}`).join('\n')}\nendloop\nendfacet`,
    ),
    'endsolid box\n',
  ].join('\n');

/** Square facets of a bumpy sheet, as many as asked for: large enough to take a while. Its area is at least `side`². */
export function sheetFacets(cells: number, side: number): Facet[] {
  const at = (i: number, j: number): Point => [
    (i * side) / cells,
    (j * side) / cells,
    Math.sin(i * 12.9898 + j * 78.233) * 0.1,
  ];
  return Array.from({ length: cells * cells }, (_, n): Facet[] => {
    const [i, j] = [n % cells, Math.floor(n / cells)];
    return [
      [at(i, j), at(i + 1, j), at(i + 1, j + 1)],
      [at(i, j), at(i + 1, j + 1), at(i, j + 1)],
    ];
  }).flat();
}
