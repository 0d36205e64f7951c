import { fileURLToPath } from 'node:url';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import type { Plugin } from 'vite';
import { defineConfig } from 'vitest/config';
import { LongestFirst } from './tests/longestFirst.ts';
import { offlinePlugin } from './workers/offline/plugin.ts';
import { opencvPlugin } from './workers/opencv/vitePlugin.ts';

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));

// 'wasm-unsafe-eval' compiles WebAssembly; no 'unsafe-eval': the opencv plugin rewrites embind's `new Function` sites
const contentSecurityPolicy = [
  "default-src 'none'",
  "script-src 'self' 'wasm-unsafe-eval'",
  "worker-src 'self'",
  "style-src 'self'",
  "img-src 'self' blob: data:",
  "connect-src 'self' blob:",
  "font-src 'self'",
  "manifest-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');

// jsPDF can load these for HTML pages and SVG files; the plan is drawn into the PDF without them
const unused = ['html2canvas', 'canvg', 'dompurify'];
const leaveOut: Plugin = {
  name: 'leave-out',
  enforce: 'pre',
  resolveId: (id) => (unused.includes(id) ? `\0${id}` : undefined),
  load: (id) =>
    unused.includes(id.slice(1)) && id.startsWith('\0') ? 'export default undefined;' : undefined,
};

export default defineConfig({
  root: here('./src'),
  base: './',
  publicDir: here('./src/public'),
  cacheDir: here('./node_modules/.vite'),
  plugins: [
    leaveOut,
    opencvPlugin(),
    svelte({ configFile: false, compilerOptions: { runes: true } }),
    offlinePlugin(here('./workers/offline/service.ts')),
  ],
  worker: { format: 'es', plugins: () => [opencvPlugin()] },
  build: { outDir: here('./dist'), emptyOutDir: true, target: 'es2022', assetsInlineLimit: 0 },
  preview: { port: 4173, headers: { 'Content-Security-Policy': contentSecurityPolicy } },
  test: {
    root: here('.'),
    environment: 'node',
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/browser/**', 'node_modules/**'],
    // many files load the same modules: a worker loads them once and keeps them for its next file
    isolate: false,
    unstubGlobals: true,
    testTimeout: 180_000,
    // left to itself it takes one less than there are cores
    maxWorkers: '100%',
    sequence: { sequencer: LongestFirst },
  },
});
