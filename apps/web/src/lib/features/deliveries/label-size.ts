const STORAGE_KEY = 'huelot.labelSize';

export interface LabelSize {
  widthMm: number | null;
  heightMm: number | null;
}

/** The size that was printed last on this screen: it belongs to the printer beside it, and not to a person. */
export function rememberedLabelSize(): { widthMm: number; heightMm: number } {
  const [widthMm, heightMm] = (localStorage.getItem(STORAGE_KEY) ?? '').split('x').map(Number);
  return widthMm && heightMm ? { widthMm, heightMm } : { widthMm: 100, heightMm: 60 };
}
/**
 * @example
 * rememberLabelSize({ widthMm: 100, heightMm: 60 });
 */
export const rememberLabelSize = ({ widthMm, heightMm }: LabelSize): void =>
  localStorage.setItem(STORAGE_KEY, `${widthMm}x${heightMm}`);
