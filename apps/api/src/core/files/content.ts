import { fileKinds, type FileEnding } from '@huelot/contracts';
import { fieldError } from '../../kernel/refusal.ts';
import { stepFault, stlFault } from './model-content.ts';
import type { Seen } from './spool.ts';

/**
 * How a name is kept: its last part only, without what a header, a screen or a file system would trip over.
 *
 * @example
 * safeName('../../etc/bracket\u202E.pdf') // 'bracket.pdf'
 */
export function safeName(text: string): string {
  const last = text.normalize('NFC').split(/[/\\]/).at(-1) ?? '';
  const name = last.replace(/[\p{Cc}\p{Cf}"<>:|?*]/gu, '').trim();
  const dot = name.lastIndexOf('.');
  return dot > 0 ? `${name.slice(0, Math.min(dot, 180))}${name.slice(dot)}` : name;
}

/** The kind a name stands for, or a refusal that lists the kinds. */
export function endingOf(name: string): FileEnding {
  const ending = /[^.]\.([a-z]+)$/i.exec(name)?.[1]?.toLowerCase() ?? '';
  if (Object.hasOwn(fileKinds, ending)) return ending as FileEnding;
  const kinds = Object.keys(fileKinds).join(', ');
  throw fieldError('file', `is named ${name === '' ? 'nothing' : name}; the kinds kept end in ${kinds}`);
}

/** Refuses a file whose content is not what its name says. */
export function checkContent(ending: FileEnding, seen: Seen): void {
  if (seen.sizeBytes === 0) throw fieldError('file', 'is empty');
  if (!isA[ending](seen))
    throw fieldError('file', `ends in .${ending} but its content is not a ${fileKinds[ending].words}`);
  const fault = modelFaults[ending]?.(seen) ?? null;
  if (fault !== null)
    throw fieldError('file', `is a ${fileKinds[ending].words} that ${fault}. Export or send it again`);
}

/** Models that nobody could measure are not kept. */
const modelFaults: Partial<Record<FileEnding, (seen: Seen) => string | null>> = {
  stl: stlFault,
  step: stepFault,
  stp: stepFault,
};

const bytes = (...values: number[]) => Buffer.from(values);
const startsWith = (head: Buffer, start: Buffer | string) =>
  head.subarray(0, start.length).equals(Buffer.from(start));

const isPdf = ({ head }: Seen) => startsWith(head, '%PDF-');
const isPng = ({ head }: Seen) => startsWith(head, bytes(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a));
const isJpeg = ({ head }: Seen) => startsWith(head, bytes(0xff, 0xd8, 0xff));
const isWebp = ({ head }: Seen) =>
  startsWith(head, 'RIFF') && head.subarray(8, 12).equals(Buffer.from('WEBP'));
/** Comments may stand before the header of an exchange file (ISO 10303-21). */
const isStep = ({ head }: Seen) =>
  /^(?:\ufeff|\s|\/\*[\s\S]*?\*\/)*ISO-10303-21\s*;/.test(head.toString('utf8'));
const isDxf = ({ head }: Seen) =>
  startsWith(head, 'AutoCAD Binary DXF') ||
  /^\s*(?:999\r?\n[^\n]*\n\s*)*0\r?\n\s*SECTION\b/.test(head.toString('latin1'));
const isText = ({ text }: Seen) => text;

/** A mesh has no mark of its own: whatever carries another's is not one. The measurement says what ails the rest. */
const strangers = ['%PDF-', 'RIFF', 'PK\u0003\u0004', 'GIF8', 'MZ', '\u007fELF', '<', 'ISO-10303-21', '{'];
const isStl = (seen: Seen) =>
  !isPng(seen) && !isJpeg(seen) && !strangers.some((mark) => startsWith(seen.head, mark));

const isA: Record<FileEnding, (seen: Seen) => boolean> = {
  pdf: isPdf,
  png: isPng,
  jpg: isJpeg,
  jpeg: isJpeg,
  webp: isWebp,
  stl: isStl,
  step: isStep,
  stp: isStep,
  dxf: isDxf,
  txt: isText,
  csv: isText,
};
