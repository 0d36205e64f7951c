import { fileURLToPath } from 'node:url';
import { defineConfig, devices } from '@playwright/test';
import { chromiumArgs, chromiumPath } from './browser.mjs';

const root = fileURLToPath(new URL('..', import.meta.url));
const port = Number(process.env.PORT ?? 41730);
const executablePath = chromiumPath();

export default defineConfig({
  testDir: './browser',
  // emptied at each start, so not the folder of the reports and the found sample
  outputDir: '../test-results/browser',
  globalSetup: './browser/findSample.ts',
  timeout: 180_000,
  // what is waited for comes later on a machine that does other things too
  expect: { timeout: 20_000 },
  workers: 2,
  forbidOnly: !!process.env.CI,
  reporter: [['list'], ['json', { outputFile: '../test-results/browser.json' }]],
  use: {
    ...devices['Desktop Chrome'],
    viewport: { width: 1440, height: 900 },
    baseURL: `http://localhost:${port}/`,
    // a trace of every test costs a good part of its time: TRACE=1 where one is wanted
    trace: process.env.TRACE ? 'retain-on-failure' : 'off',
    serviceWorkers: 'block',
    launchOptions: { ...(executablePath ? { executablePath } : {}), args: chromiumArgs },
  },
  webServer: {
    // the built files under the real policy, as `npm start` serves them
    command: `npx vite build --logLevel warn && npx vite preview --port ${port} --strictPort`,
    cwd: root,
    url: `http://localhost:${port}/`,
    reuseExistingServer: !process.env.CI,
    timeout: 180_000,
  },
});
