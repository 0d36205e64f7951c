import { readFileSync, writeFileSync } from 'node:fs';
import type { Browser } from '@playwright/test';

/** The most memory the browser's page process has held since `reset` (MiB), as Linux tells it; NaN elsewhere. */
export class PeakMemory {
  private constructor(private readonly pids: readonly number[]) {}

  /** Looks up the processes that show pages. */
  static async of(browser: Browser): Promise<PeakMemory> {
    const session = await browser.newBrowserCDPSession();
    const { processInfo } = await session.send('SystemInfo.getProcessInfo');
    await session.detach();
    return new PeakMemory(processInfo.filter(({ type }) => type === 'renderer').map(({ id }) => id));
  }

  reset(): void {
    try {
      // proc(5): 5 sets the peak back to what is held now
      for (const pid of this.pids) writeFileSync(`/proc/${pid}/clear_refs`, '5');
    } catch {
      // another system: `read` says NaN
    }
  }

  read(): number {
    try {
      const peaks = this.pids.map((pid) =>
        Number(/VmHWM:\s+(\d+) kB/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1]),
      );
      return Math.max(...peaks) / 1024;
    } catch {
      return NaN;
    }
  }
}
