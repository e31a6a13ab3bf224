import js from '@eslint/js';
import globals from 'globals';
import svelte from 'eslint-plugin-svelte';
import ts from 'typescript-eslint';

// SvelteKit keeps the service worker out of the pages' own project.
const projectService = { allowDefaultProject: ['apps/web/src/service-worker.ts'] };

/**
 * Rules that ask for types take ten minutes over the components, whose types svelte-check has looked at already: they are
 * asked before a release (`npm run lint`) and left out of `npm test`.
 */
const arePagesTyped = process.env.HUELOT_LINT_TYPED_PAGES === '1';

export default ts.config(
  {
    ignores: [
      '**/node_modules',
      '**/build',
      '**/dist',
      '**/.svelte-kit',
      '**/generated',
      '.huelot',
      '.stryker-tmp',
      'reports',
    ],
  },
  js.configs.recommended,
  {
    files: ['**/*.{js,mjs}'],
    languageOptions: { globals: globals.node },
  },
  {
    files: ['apps/web/static/*.js'],
    languageOptions: { globals: globals.browser },
  },
  {
    files: ['**/*.ts', '**/*.svelte', '**/*.svelte.ts'],
    extends: [ts.configs.recommendedTypeChecked],
    languageOptions: { parserOptions: { projectService, extraFileExtensions: ['.svelte'] } },
    rules: {
      'no-undef': 'off',
      'max-params': ['error', 3],
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/no-floating-promises': 'error',
      '@typescript-eslint/no-non-null-assertion': 'error',
      '@typescript-eslint/switch-exhaustiveness-check': [
        'error',
        { considerDefaultExhaustiveForUnions: true },
      ],
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_' }],
    },
  },
  {
    files: ['packages/calc/src/**/*.ts'],
    ignores: ['**/*.test.ts'],
    rules: {
      'no-restricted-globals': ['error', 'Date', 'process', 'fetch', 'performance', 'window', 'document'],
      'no-restricted-properties': [
        'error',
        { object: 'Math', property: 'random', message: 'calc is pure: take random numbers as an argument' },
      ],
    },
  },
  ...svelte.configs.recommended,
  {
    files: ['**/*.svelte', '**/*.svelte.ts'],
    languageOptions: {
      globals: globals.browser,
      parserOptions: { parser: ts.parser, projectService, extraFileExtensions: ['.svelte'] },
    },
    rules: {
      'svelte/no-navigation-without-resolve': 'off',
      // Props are declared with `let`: some of them are bound.
      'prefer-const': 'off',
      'svelte/prefer-const': 'error',
    },
  },
  arePagesTyped
    ? {}
    : {
        files: ['**/*.svelte'],
        extends: [ts.configs.disableTypeChecked],
        languageOptions: { parserOptions: { projectService: false } },
      },
  {
    files: ['**/*.svelte'],
    rules: {
      // The linter cannot see the types of components and snippets; svelte-check can, and refuses any fault in them.
      '@typescript-eslint/no-unsafe-argument': 'off',
      '@typescript-eslint/no-unsafe-assignment': 'off',
      '@typescript-eslint/no-unsafe-call': 'off',
      '@typescript-eslint/no-unsafe-member-access': 'off',
      '@typescript-eslint/no-unsafe-return': 'off',
    },
  },
);
