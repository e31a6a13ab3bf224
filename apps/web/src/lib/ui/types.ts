import type { Snippet } from 'svelte';
import type { IconName } from './icons.ts';

/** What every kind of field takes. Spread `form.field('path')` onto it for `name` and `error`. */
export interface FieldProps {
  label: string;
  name?: string | undefined;
  error?: string | undefined;
  /** How to fill it in; stays visible while typing. */
  hint?: string | undefined;
  optional?: boolean;
  disabled?: boolean;
  /** Read out, not drawn: for a field whose meaning the layout shows already, as in a table. */
  hideLabel?: boolean;
}

/** What a field hands to the control inside it. */
export interface ControlProps {
  id: string;
  name: string | undefined;
  disabled: boolean;
  'aria-describedby': string | undefined;
  'aria-invalid': 'true' | undefined;
}

export interface Choice {
  value: string;
  label: string;
  /** A second line: a number, a customer, an alloy. */
  detail?: string;
}

export interface MenuItem {
  label: string;
  icon?: IconName;
  href?: string;
  /** Saves a file instead of opening a page. */
  download?: boolean;
  onselect?: () => void;
  danger?: boolean;
  disabled?: boolean;
  /** Starts a new group. */
  divided?: boolean;
}

export interface Fact {
  label: string;
  /** Words, or a snippet for anything richer; null or '' shows a dash. */
  value: string | number | null | undefined | Snippet;
}

export interface Explanation {
  /** What the figure is: "Electrical area of a load". */
  label: string;
  /** As a person would write it: "A = n · (a + contact)". */
  formula: string;
  inputs: readonly {
    label: string;
    value: string;
    unit?: string;
    /** Where it came from. */ origin: string;
  }[];
  /** The book, standard or measurement behind the formula. */
  source: string;
  /** What the figure does not cover. */
  limits?: string;
}

export interface Column {
  label: string;
  /** The name the endpoint sorts by; `-name` turns it over. Absent: not sorted by this column. */
  sort?: string;
  /** Figures stand at the end of their column. */
  align?: 'start' | 'end';
  /** Shown on a desk, left out on a narrow tablet. */
  wideOnly?: boolean;
}
