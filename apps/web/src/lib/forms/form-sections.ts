export interface FormSection {
  id: string;
  title: string;
  heading: HTMLElement;
}

/** The sections of a form by their headings, in the order of the page; those inside a dialog are not part of it. */
export function sectionsOf(form: HTMLElement): FormSection[] {
  return [...form.querySelectorAll<HTMLElement>('section > .head > h2')].flatMap((heading) => {
    const title = heading.textContent.trim();
    return title === '' || heading.id === '' ? [] : [{ id: heading.id, title, heading }];
  });
}
