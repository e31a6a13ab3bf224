/**
 * Marks the first choice of an open list. The library does so while somebody types; a search answers later and brings
 * other choices, so the box says once more what stands in it.
 */
export function markFirst(box: HTMLElement | null) {
  if (document.activeElement === box) box?.dispatchEvent(new InputEvent('input', { bubbles: true }));
}
