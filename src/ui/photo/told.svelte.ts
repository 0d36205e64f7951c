import { onDestroy, untrack } from 'svelte';

/** How often the words beside a gesture follow it at most (ms): nobody reads quicker, and text laid out in every frame holds the hand up. */
export const TELL_MS = 100;

/** A value as words tell it: at once when it was still for a while, else at most every `TELL_MS`; the last one is always told. To be made while a component is. */
export class Told<T> {
  value = $state.raw() as T;
  private latest: T;
  private toldAt = -Infinity;
  private timer: ReturnType<typeof setTimeout> | null = null;

  constructor(read: () => T) {
    this.latest = this.value = untrack(read);
    $effect(() => {
      this.latest = read();
      const waitMs = this.toldAt + TELL_MS - performance.now();
      if (waitMs <= 0) this.tell();
      else this.timer ??= setTimeout(() => this.tell(), waitMs);
    });
    onDestroy(() => clearTimeout(this.timer ?? undefined));
  }

  private tell(): void {
    clearTimeout(this.timer ?? undefined);
    this.timer = null;
    this.toldAt = performance.now();
    this.value = this.latest;
  }
}
