import { sveltekit } from '@sveltejs/kit/vite';
import { defineConfig } from 'vite';

export default defineConfig({
  plugins: [sveltekit()],
  build: { manifest: true },
  // The host stays as the browser named it: the service refuses writes whose origin is another one.
  server: { proxy: { '/api': { target: 'http://localhost:4070', changeOrigin: false } } },
});
