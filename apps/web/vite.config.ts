import { sveltekit } from '@sveltejs/kit/vite';
import { defineConfig } from 'vite';
import { shippedPackages } from '../../deploy/shipped-packages.mjs';

export default defineConfig({
  plugins: [sveltekit(), shippedPackages(import.meta.dirname)],
  build: { manifest: true },
  // The host stays as the browser named it: the service refuses writes whose origin is another one.
  server: { proxy: { '/api': { target: 'http://localhost:4070', changeOrigin: false } } },
});
