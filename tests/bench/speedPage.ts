import type { Asked, Told } from './speedWorker.ts';

declare global {
  var speed: typeof speedPage;
}

let worker: Worker | null = null;
const pictures = new Map<string, Blob>();

/** What the runner drives: one worker at a time, pictures kept by name in the page. */
const speedPage = {
  /** Ends the worker and starts another: a wasm heap never shrinks. */
  restart(): void {
    worker?.terminate();
    worker = new Worker(new URL('./speedWorker.ts', import.meta.url), { type: 'module' });
  },

  ask<K extends keyof Told>(asked: Asked & { kind: K }): Promise<Told[K]> {
    return new Promise((resolve, reject) => {
      worker!.onerror = (event) => reject(new Error(event.message));
      worker!.onmessage = ({ data }: MessageEvent<Told[K] | { failed: string }>) =>
        'failed' in data ? reject(new Error(data.failed)) : resolve(data);
      worker!.postMessage(asked);
    });
  },

  async fetchPicture(name: string): Promise<void> {
    pictures.set(name, await (await fetch(name)).blob());
  },

  /** Puts a picture of another size, made in a worker of its own, in place of a fetched one. */
  async enlarge(name: string, size: { widthPx: number; heightPx: number }): Promise<void> {
    speedPage.restart();
    pictures.set(name, (await speedPage.ask({ kind: 'enlarge', blob: pictures.get(name)!, ...size })).blob);
  },

  /** Times a picture, in a `fresh` worker or in the one before. */
  async time(asked: Omit<Asked & { kind: 'time' }, 'kind' | 'blob'> & { photo: string }, fresh: boolean) {
    if (fresh) speedPage.restart();
    const { photo, ...rest } = asked;
    const blob = pictures.get(photo)!;
    return { times: await speedPage.ask({ kind: 'time', blob, ...rest }), fileBytes: blob.size };
  },

  /** Bytes of JavaScript memory of the page and its worker, array buffers and wasm heaps included. */
  async memoryBytes(): Promise<number> {
    const measured = performance as Performance & {
      measureUserAgentSpecificMemory(): Promise<{ bytes: number }>;
    };
    return (await measured.measureUserAgentSpecificMemory()).bytes;
  },
};

globalThis.speed = speedPage;
