interface Page {
  url: URL;
  data: Record<string, unknown>;
  state: Record<string, unknown>;
}

/** Stands in for `$app/state` where components run without SvelteKit; set it before a component is drawn. */
export const page: Page = { url: new URL('http://localhost/'), data: {}, state: {} };
