/** What decides how a drawing looks; the rest of a style sheet stays on the page. */
const carried = [
  'fill',
  'fill-opacity',
  'stroke',
  'stroke-width',
  'stroke-dasharray',
  'stroke-opacity',
  'opacity',
  'paint-order',
  'font-family',
  'font-size',
  'font-weight',
  'text-anchor',
] as const;

/**
 * A drawing of the page as a file of its own: the looks that style sheets gave it are written into it, on the page's
 * ground and with a heading.
 */
export function standaloneSvg(svg: SVGSVGElement, heading: string): string {
  const copy = svg.cloneNode(true) as SVGSVGElement;
  const from = [svg, ...svg.querySelectorAll<SVGElement>('*')];
  const into = [copy, ...copy.querySelectorAll<SVGElement>('*')];
  from.forEach((element, index) => {
    const looks = getComputedStyle(element);
    const target = into[index];
    target?.setAttribute('style', carried.map((name) => `${name}:${looks.getPropertyValue(name)}`).join(';'));
    target?.removeAttribute('class');
  });
  for (const left of copy.querySelectorAll('[data-screen-only]')) left.remove();
  const { width, height } = svg.getBoundingClientRect();
  const headed = height + HEADING_PX;
  const looks = getComputedStyle(document.documentElement);
  const ns = 'http://www.w3.org/2000/svg';
  const ground = document.createElementNS(ns, 'rect');
  for (const [name, value] of Object.entries({ y: -HEADING_PX, width, height: headed }))
    ground.setAttribute(name, String(value));
  ground.setAttribute('fill', looks.backgroundColor);
  const title = document.createElementNS(ns, 'text');
  title.textContent = heading;
  title.setAttribute('x', '16');
  title.setAttribute('y', '-12');
  title.setAttribute('style', `font:600 16px ${looks.fontFamily};fill:${looks.color}`);
  copy.prepend(ground, title);
  copy.setAttribute('xmlns', ns);
  copy.setAttribute('viewBox', `0 ${-HEADING_PX} ${width} ${headed}`);
  copy.setAttribute('width', String(width));
  copy.setAttribute('height', String(headed));
  return new XMLSerializer().serializeToString(copy);
}

const HEADING_PX = 36;

/** The drawing in dots, twice as fine as the screen. */
export async function toPng(svgText: string): Promise<Blob> {
  const address = URL.createObjectURL(new Blob([svgText], { type: 'image/svg+xml' }));
  try {
    const image = new Image();
    image.src = address;
    await image.decode();
    const canvas = document.createElement('canvas');
    canvas.width = image.width * 2;
    canvas.height = image.height * 2;
    canvas.getContext('2d')?.drawImage(image, 0, 0, canvas.width, canvas.height);
    return await new Promise((resolve, reject) =>
      canvas.toBlob((blob) => (blob ? resolve(blob) : reject(new Error('no picture'))), 'image/png'),
    );
  } finally {
    URL.revokeObjectURL(address);
  }
}
