/** Up and down move from row to row, Home and End to the ends: a list walked without leaving the keyboard. */
export function rowKeyboardNavigation(list: HTMLElement) {
  const move = (event: KeyboardEvent) => {
    const links = [...list.querySelectorAll<HTMLElement>('.row-link')];
    const index = links.findIndex((link) => link === document.activeElement);
    const target = { ArrowDown: index + 1, ArrowUp: index - 1, Home: 0, End: links.length - 1 }[event.key];
    if (index < 0 || target === undefined) return;
    event.preventDefault();
    links[Math.min(Math.max(target, 0), links.length - 1)]?.focus();
  };
  list.addEventListener('keydown', move);
  return () => list.removeEventListener('keydown', move);
}

/**
 * Marks the first choice of an open list. The library does so while somebody types; a search answers later and brings
 * other choices, so the box says once more what stands in it.
 */
export function highlightFirstOption(box: HTMLElement | null) {
  if (document.activeElement === box) box?.dispatchEvent(new InputEvent('input', { bubbles: true }));
}
