const SPACE = 32;
const NEWLINE = 10;
/** The bit that makes a capital ASCII letter small. */
const LOWER_CASE = 0x20;
const LONGEST_SHOWN = 40;

const PLUS = 43;
const MINUS = 45;
const POINT = 46;
const ZERO = 48;
const LETTER_E = 101;

/** Reads words and numbers of a text in place: a large file is never copied into strings. */
export class Tokens {
  readonly #bytes: Uint8Array;
  #at = 0;
  #lastStart = 0;

  constructor(bytes: Uint8Array) {
    this.#bytes = bytes;
  }

  /** Whether a word is left. */
  more(): boolean {
    while (this.#at < this.#bytes.length && this.#byte(this.#at) <= SPACE) this.#at++;
    return this.#at < this.#bytes.length;
  }

  /** Whether a word is left before the line ends. */
  moreOnLine(): boolean {
    while (this.#byte(this.#at) <= SPACE && this.#at < this.#bytes.length) {
      if (this.#byte(this.#at) === NEWLINE) return false;
      this.#at++;
    }
    return this.#at < this.#bytes.length;
  }

  /** Goes past the next word if it is this one, in any case of letters. */
  take(word: string): boolean {
    if (!this.more()) return false;
    for (let i = 0; i < word.length; i++) {
      if ((this.#byte(this.#at + i) | LOWER_CASE) !== word.charCodeAt(i)) return false;
    }
    if (this.#byte(this.#at + word.length) > SPACE) return false;
    this.#at += word.length;
    return true;
  }

  /** Whether these words come next; goes past none of them. */
  next(...words: string[]): boolean {
    const start = this.#at;
    const found = words.every((word) => this.take(word));
    this.#at = start;
    return found;
  }

  skip(): void {
    if (!this.more()) return;
    this.#lastStart = this.#at;
    this.#at = this.#end();
  }

  skipLine(): void {
    while (this.#at < this.#bytes.length && this.#byte(this.#at) !== NEWLINE) this.#at++;
  }

  /** The next word as a number, NaN when it is none. */
  number(): number {
    this.skip();
    return decimal(this.#bytes, this.#lastStart, this.#at);
  }

  /** The word read last, shortened for a message. */
  last(): string {
    return this.#text(this.#lastStart, this.#at);
  }

  /** The word that comes next, shortened for a message. */
  peek(): string {
    return this.more() ? this.#text(this.#at, this.#end()) : '';
  }

  #end(): number {
    let end = this.#at;
    while (end < this.#bytes.length && this.#byte(end) > SPACE) end++;
    return end;
  }

  #byte(index: number): number {
    return this.#bytes[index] ?? 0;
  }

  #text(start: number, end: number): string {
    return String.fromCharCode(...this.#bytes.subarray(start, Math.min(end, start + LONGEST_SHOWN)));
  }
}

/** Powers of ten that binary holds exactly. */
const EXACT_TENS = Array.from({ length: 23 }, (_, exponent) => Number(`1e${exponent}`));
/** One digit more than this still fits into a double without rounding. */
const MOST_EXACT = Math.floor(2 ** 53 / 10) - 1;

/**
 * Numbers of up to fifteen digits and a small exponent by exact integers and one rounding (Clinger 1990); any other word
 * through the language's own reading, which is a hundred times slower.
 */
function decimal(bytes: Uint8Array, start: number, end: number): number {
  let at = start;
  const negative = bytes[at] === MINUS;
  if (negative || bytes[at] === PLUS) at++;
  let digits = 0;
  let exponent = 0;
  let seen = 0;
  let afterPoint = false;
  for (; at < end; at++) {
    const byte = bytes[at] ?? 0;
    if (byte >= ZERO && byte <= ZERO + 9) {
      if (digits > MOST_EXACT) return slowly(bytes, start, end);
      digits = digits * 10 + (byte - ZERO);
      seen++;
      if (afterPoint) exponent--;
    } else if (byte === POINT && !afterPoint) {
      afterPoint = true;
    } else {
      break;
    }
  }
  if (at < end) {
    if (((bytes[at] ?? 0) | LOWER_CASE) !== LETTER_E) return slowly(bytes, start, end);
    exponent += smallInteger(bytes, at + 1, end);
  }
  const power = EXACT_TENS[Math.abs(exponent)];
  if (seen === 0 || power === undefined) return slowly(bytes, start, end);
  const value = exponent < 0 ? digits / power : digits * power;
  return negative ? -value : value;
}

/** The exponent, NaN when it is not a plain one. */
function smallInteger(bytes: Uint8Array, start: number, end: number): number {
  const signed = bytes[start] === MINUS || bytes[start] === PLUS;
  let value = start + Number(signed) < end ? 0 : NaN;
  for (let at = start + Number(signed); at < end; at++) {
    const digit = (bytes[at] ?? 0) - ZERO;
    value = digit >= 0 && digit <= 9 ? value * 10 + digit : NaN;
  }
  return bytes[start] === MINUS ? -value : value;
}

const slowly = (bytes: Uint8Array, start: number, end: number): number =>
  end > start ? Number(String.fromCharCode(...bytes.subarray(start, end))) : NaN;
