import type { Page } from '@playwright/test';

/** Times of frames that each answered one event (ms). */
export interface Frames {
  /** From a frame's start until the main thread was free again: the page's sums, styles, layout, painting and handing over. */
  readonly workMs: readonly number[];
  /** From a frame's start to the next one's: never under the screen's 16.7. */
  readonly apartMs: readonly number[];
}

/** What happens to an element, one event a frame: `x`, `y` on the page, `wheel` how far two fingers are spread on a trackpad there (css px). */
export interface Motion {
  readonly selector: string;
  readonly pressed: boolean;
  readonly steps: readonly { readonly x: number; readonly y: number; readonly wheel?: number }[];
}

/**
 * Moves a mouse inside the page, one event a frame. The events are made in the page, for those sent through the browser's protocol cost the
 * main thread more than the page's answer to them.
 */
export function playMotion(page: Page, motion: Motion): Promise<Frames> {
  return page.evaluate(async ({ selector, pressed, steps }) => {
    const host = document.querySelector<HTMLElement>(selector)!;
    // a made pointer cannot be captured
    host.setPointerCapture = () => {};
    const send = (type: string, { x, y, wheel = 0 }: Motion['steps'][number]) => {
      const at = { bubbles: true, cancelable: true, clientX: x, clientY: y };
      const event =
        type === 'wheel'
          ? new WheelEvent(type, { ...at, deltaY: wheel, ctrlKey: true })
          : new PointerEvent(type, { ...at, pointerId: 1, pointerType: 'mouse', buttons: pressed ? 1 : 0 });
      host.dispatchEvent(event);
    };
    const { port1, port2 } = new MessageChannel();
    const free = () =>
      new Promise<number>((resolve) => {
        port1.onmessage = () => resolve(performance.now());
        port2.postMessage(null);
      });
    const frame = () =>
      new Promise<number>((resolve) => requestAnimationFrame(() => resolve(performance.now())));
    if (pressed) send('pointerdown', steps[0]!);
    const workMs: number[] = [];
    const starts: number[] = [];
    for (const step of steps) {
      const start = await frame();
      send(step.wheel === undefined ? 'pointermove' : 'wheel', step);
      workMs.push((await free()) - start);
      starts.push(start);
    }
    if (pressed) send('pointerup', steps.at(-1)!);
    return { workMs, apartMs: starts.slice(1).map((start, i) => start - starts[i]!) };
  }, motion);
}

/** Median and 95 % of the frames' times, in words. */
export function sayFrames({ workMs, apartMs }: Frames): string {
  const say = (values: readonly number[]) => {
    const sorted = [...values].sort((a, b) => a - b);
    const at = (share: number) => sorted[Math.floor(share * (sorted.length - 1))]!.toFixed(1).padStart(5);
    return `${at(0.5)}, ${at(0.95)}`;
  };
  return `main thread ${say(workMs)}; frame to frame ${say(apartMs)}`;
}
