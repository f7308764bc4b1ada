import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

export default defineConfig({
  root: 'app',
  publicDir: '../public',
  base: './',
  plugins: [react()],
  worker: { format: 'es' },
  server: { port: 5173 },
  build: { outDir: '../dist/page', emptyOutDir: true, target: 'es2023', chunkSizeWarningLimit: 1200 },
});
