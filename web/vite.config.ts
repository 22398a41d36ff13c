import { defineConfig } from 'vite';
import solid from 'vite-plugin-solid';

export default defineConfig({
  plugins: [solid()],
  base: './',
  build: { target: 'es2022', outDir: 'dist', manifest: true, emptyOutDir: true, assetsInlineLimit: 0, modulePreload: { polyfill: false } },
  worker: { format: 'es' },
  server: { proxy: { '/api': 'http://127.0.0.1:8750', '/health': 'http://127.0.0.1:8750' } },
});
