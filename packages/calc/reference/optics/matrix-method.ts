/**
 * Reflectance and transmittance of a stack of films by characteristic matrices of complex numbers (F. Abelès
 * 1950; H. A. Macleod, Thin-Film Optical Filters, 4th ed., 2010, chapter 2), with N = n - i k. Written for
 * plainness, as a second opinion on the package's own recursion, which has the opposite sign.
 */
export interface PlainLayer {
  n: number;
  k: number;
  thicknessNm: number;
}

class Complex {
  readonly re: number;
  readonly im: number;
  constructor(re: number, im = 0) {
    this.re = re;
    this.im = im;
  }
  plus(other: Complex): Complex {
    return new Complex(this.re + other.re, this.im + other.im);
  }
  minus(other: Complex): Complex {
    return new Complex(this.re - other.re, this.im - other.im);
  }
  times(other: Complex): Complex {
    return new Complex(this.re * other.re - this.im * other.im, this.re * other.im + this.im * other.re);
  }
  over(other: Complex): Complex {
    const size = other.re ** 2 + other.im ** 2;
    const { re, im } = this.times(new Complex(other.re, -other.im));
    return new Complex(re / size, im / size);
  }
  /** The root in the fourth quadrant, the wave that dies out on its way in. */
  root(): Complex {
    const size = Math.sqrt(Math.hypot(this.re, this.im));
    const angle = Math.atan2(this.im, this.re) / 2;
    const root = new Complex(size * Math.cos(angle), size * Math.sin(angle));
    return root.im > 0 || (root.im === 0 && root.re < 0) ? new Complex(-root.re, -root.im) : root;
  }
  cosine(): Complex {
    return new Complex(Math.cos(this.re) * Math.cosh(this.im), -Math.sin(this.re) * Math.sinh(this.im));
  }
  sine(): Complex {
    return new Complex(Math.sin(this.re) * Math.cosh(this.im), Math.cos(this.re) * Math.sinh(this.im));
  }
  get square(): number {
    return this.re ** 2 + this.im ** 2;
  }
}

const I = new Complex(0, 1);

export function matrixMethod(stack: {
  layers: readonly PlainLayer[];
  substrate: { n: number; k: number };
  wavelengthNm: number;
  angleDeg: number;
  polarisation: 's' | 'p';
}): { reflectance: number; transmittance: number } {
  const sine = new Complex(Math.sin((stack.angleDeg * Math.PI) / 180));
  const waveIn = ({ n, k }: { n: number; k: number }) => {
    const index = new Complex(n, -k);
    const cosine = new Complex(1).minus(sine.times(sine).over(index.times(index))).root();
    return { index, cosine, eta: stack.polarisation === 's' ? index.times(cosine) : index.over(cosine) };
  };
  const air = waveIn({ n: 1, k: 0 }).eta;
  const substrate = waveIn(stack.substrate).eta;
  let [b, c] = [new Complex(1), substrate];
  for (const layer of [...stack.layers].reverse()) {
    const { index, cosine, eta } = waveIn(layer);
    const delta = index.times(cosine).times(new Complex((2 * Math.PI * layer.thicknessNm) / stack.wavelengthNm));
    const cos = delta.cosine();
    const iSin = I.times(delta.sine());
    [b, c] = [cos.times(b).plus(iSin.over(eta).times(c)), iSin.times(eta).times(b).plus(cos.times(c))];
  }
  const fromAir = air.times(b);
  const sum = fromAir.plus(c);
  return {
    reflectance: fromAir.minus(c).over(sum).square,
    transmittance: (4 * air.re * substrate.re) / sum.square,
  };
}
