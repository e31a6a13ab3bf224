import adapter from '@sveltejs/adapter-static';

/**
 * A single-page app: the API serves these files and answers every unknown page with index.html.
 *
 * @type {import('@sveltejs/kit').Config}
 */
export default {
  compilerOptions: { runes: ({ filename }) => (filename.includes('node_modules') ? undefined : true) },
  kit: {
    adapter: adapter({ fallback: 'index.html', precompress: true }),
    typescript: {
      config: (config) => ({
        ...config,
        include: [...config['include'], '../*.ts', '../*.js', '../scripts/*.ts'],
      }),
    },
  },
};
