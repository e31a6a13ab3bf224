import { sveltekit } from '@sveltejs/kit/vite';
import { defineConfig } from 'vite';

export default defineConfig({
  plugins: [sveltekit()],
  build: { manifest: true },
  server: { proxy: { '/api': 'http://localhost:4070' } },
});
