import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { startOpenCv, type OpenCvFactory } from '../src/vision/opencv/start.ts';
import type { OpenCv } from '../src/vision/opencv/types.ts';
import { toFactoryModule } from '../workers/opencv/vitePlugin.ts';

let started: Promise<{ cv: OpenCv }> | undefined;

/** The same rewritten glue and wasm as in the browser's worker, started in Node; once, however often it is asked for. */
export const loadOpenCvInNode = (): Promise<{ cv: OpenCv }> => (started ??= start());

async function start(): Promise<{ cv: OpenCv }> {
  const require = createRequire(import.meta.url);
  const code = toFactoryModule(readFileSync(require.resolve('opencv-wasm/opencv.js'), 'utf8'));
  const url = `data:text/javascript;base64,${Buffer.from(code).toString('base64')}`;
  const glue = (await import(/* @vite-ignore */ url)) as { default: OpenCvFactory };
  const wasm = await WebAssembly.compile(readFileSync(require.resolve('opencv-wasm/opencv.wasm')));
  return {
    cv: startOpenCv(
      glue.default,
      (imports) => new WebAssembly.Instance(wasm, imports as WebAssembly.Imports),
    ),
  };
}
