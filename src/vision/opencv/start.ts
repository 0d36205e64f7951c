import type { OpenCv } from './types.ts';

/** What the glue hands out before it has a wasm instance: its emscripten options. */
export type OpenCvFactory = (module: Record<string, unknown>) => unknown;

/**
 * OpenCV running on a heap of its own (128 MiB, growing to 1 GiB, never shrinking), from glue and a way to make the
 * wasm instance: no network, no eval, the same in a browser's worker and in Node.
 * @throws Error when the glue did not bring up a Mat class (a bug or a broken download)
 */
export function startOpenCv(
  factory: OpenCvFactory,
  instantiate: (imports: unknown) => { exports: unknown },
): OpenCv {
  let failure = 'no Mat';
  const cv = factory({
    print: () => undefined,
    printErr: (message: string) => {
      failure = message;
    },
    instantiateWasm(imports: unknown, receive: (instance: unknown) => void) {
      const instance = instantiate(imports);
      receive(instance);
      return instance.exports;
    },
  }) as OpenCv | undefined;
  if (!cv?.Mat) throw new Error(`OpenCV did not start: ${failure}`);
  return cv;
}

/** OpenCV's C++ exceptions reach JavaScript as bare numbers; this makes an Error of whatever was thrown. */
export function opencvError(cv: OpenCv, thrown: unknown): Error {
  if (typeof thrown === 'number') return new Error(`OpenCV: ${cv.exceptionFromPtr(thrown).msg.trim()}`);
  return thrown instanceof Error ? thrown : new Error(String(thrown));
}
