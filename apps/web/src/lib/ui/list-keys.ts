/** Up and down move from row to row, Home and End to the ends: a list walked without leaving the keyboard. */
export function moveAmongRows(list: HTMLElement) {
  const move = (event: KeyboardEvent) => {
    const links = [...list.querySelectorAll<HTMLElement>('.row-link')];
    const at = links.findIndex((link) => link === document.activeElement);
    const target = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: links.length - 1 }[event.key];
    if (at < 0 || target === undefined) return;
    event.preventDefault();
    links[Math.min(Math.max(target, 0), links.length - 1)]?.focus();
  };
  list.addEventListener('keydown', move);
  return () => list.removeEventListener('keydown', move);
}
