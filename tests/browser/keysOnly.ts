import type { Locator, Page } from '@playwright/test';
import { expect } from './watch.ts';

/** More presses of Tab than lie between any two controls that follow each other in the work. */
const MOST_TABS = 70;

/** What has the keys: in few words, whether one sees that it has, and whether it lies on the screen and in front. */
const readStop = (page: Page) =>
  page.evaluate(() => {
    const at = document.activeElement;
    if (!at || at === document.body || at === document.documentElement) return null;
    // a file field is shown by its label
    const shown = at.classList.contains('hidden') ? at.closest('label')! : at;
    const { outlineStyle, outlineWidth, pointerEvents } = getComputedStyle(shown);
    const { left, top, right, bottom } = shown.getBoundingClientRect();
    const inside = left >= -2 && top >= -2 && right <= innerWidth + 2 && bottom <= innerHeight + 2;
    const front = document.elementFromPoint((left + right) / 2, (top + bottom) / 2);
    return {
      words: `${shown.outerHTML.slice(0, 120)} at ${[left, top, right, bottom].map(Math.round).join(' ')}, in front ${front?.outerHTML.slice(0, 120)}`,
      isRinged: at.matches(':focus-visible') && outlineStyle !== 'none' && parseFloat(outlineWidth) >= 2,
      // what lets a hand's press through is not found there
      isOnScreen:
        inside &&
        (pointerEvents === 'none' || (front !== null && (shown.contains(front) || front.contains(shown)))),
    };
  });

/** A keyboard and nothing else: finds controls by going to them, and counts the keys. */
export class Keys {
  count = 0;

  constructor(private readonly page: Page) {}

  async press(key: string, times = 1): Promise<void> {
    for (let i = 0; i < times; i++) await this.page.keyboard.press(key);
    this.count += times;
  }

  async type(text: string): Promise<void> {
    await this.page.keyboard.type(text);
    this.count += text.length;
  }

  /** Whether a control has the keys. */
  has(control: Locator): Promise<boolean> {
    return control.evaluateAll((nodes) => nodes.some((node) => node === document.activeElement));
  }

  /** Goes to a control by Tab, or by Shift+Tab; every stop on the way must be seen to have the keys, and lie on the screen. */
  async to(control: Locator, key: 'Tab' | 'Shift+Tab' = 'Tab'): Promise<void> {
    for (let i = 0; i < MOST_TABS; i++) {
      await this.press(key);
      const stop = await readStop(this.page);
      if (stop) {
        expect(stop.isRinged, `seen to have the keys: ${stop.words}`).toBe(true);
        expect(stop.isOnScreen, `on the screen: ${stop.words}`).toBe(true);
      }
      if (await this.has(control)) return;
    }
    throw new Error(`not reached by ${MOST_TABS} presses of ${key}: ${String(control)}`);
  }

  /** Goes to a control and presses Enter on it. */
  async use(control: Locator, key: 'Tab' | 'Shift+Tab' = 'Tab'): Promise<void> {
    await this.to(control, key);
    await this.press('Enter');
  }

  /** Goes to a field and writes it over. */
  async write(field: Locator, text: string): Promise<void> {
    await this.to(field);
    await this.press('Control+a');
    await this.type(text);
  }

  /** The keys were not dropped by what was done: they are still on something. */
  async expectKept(what: string): Promise<void> {
    await expect.poll(() => readStop(this.page), `the keys are on something after ${what}`).not.toBeNull();
  }
}
