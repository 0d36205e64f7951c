import opencvFactory from 'virtual:opencv-factory';
import wasmUrl from 'opencv-wasm/opencv.wasm?url';
import { startOpenCv } from '../../src/vision/opencv/start.ts';
import type { OpenCv } from '../../src/vision/opencv/types.ts';

/** Fetches, compiles and starts OpenCV. The wasm is an ordinary hashed file of the build. */
export async function loadOpenCv(): Promise<{ cv: OpenCv }> {
  const answer = await fetch(wasmUrl);
  if (!answer.ok) throw new Error(`opencv.wasm: HTTP ${answer.status}`);
  // compileStreaming insists on Content-Type: application/wasm, which some plain hosts do not send
  const module = /^application\/wasm\b/.test(answer.headers.get('content-type') ?? '')
    ? await WebAssembly.compileStreaming(answer)
    : await WebAssembly.compile(await answer.arrayBuffer());
  // wrapped in an object: the module itself must not be what a promise resolves to
  return {
    cv: startOpenCv(
      opencvFactory,
      (imports) => new WebAssembly.Instance(module, imports as WebAssembly.Imports),
    ),
  };
}
