// Which Chromium the tests drive, and `npm run browser` to get one.
//   1. $CHROMIUM_PATH  2. Playwright's own download  3. the system's (Debian, Ubuntu, Fedora, macOS, Windows)
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { chromium } from '@playwright/test';

const SYSTEM = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
];

/** Path to hand to Playwright, or undefined to let it use its own download. Throws when there is none. */
export function chromiumPath() {
  const wanted = process.env.CHROMIUM_PATH;
  if (wanted) {
    if (!existsSync(wanted)) throw new Error(`CHROMIUM_PATH: ${wanted} does not exist`);
    return wanted;
  }
  if (existsSync(chromium.executablePath())) return undefined;
  const found = SYSTEM.find((p) => existsSync(p));
  if (!found) throw new Error('No Chromium found: run `npm run browser`, or set CHROMIUM_PATH');
  return found;
}

/** Root may not use Chromium's sandbox; a closed network needs no background requests. */
export const chromiumArgs = [
  ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/** @param {string} cmd @param {string[]} args */
const run = (cmd, args) => {
  console.log(`> ${cmd} ${args.join(' ')}`);
  return spawnSync(cmd, args, { stdio: 'inherit', shell: process.platform === 'win32' }).status === 0;
};

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  let have = false;
  try {
    have = chromiumPath() !== null;
  } catch {
    /* none yet */
  }
  if (process.env.FORCE) have = false;
  if (have) console.log(`Chromium: ${chromiumPath() ?? chromium.executablePath()}`);
  else if (run('npx', ['playwright', 'install', 'chromium']))
    console.log('Playwright installed its own Chromium.');
  else if (existsSync('/usr/bin/apt-get')) {
    /** @param {string[]} args */
    const apt = (args) =>
      process.getuid?.() === 0 ? run('apt-get', args) : run('sudo', ['apt-get', ...args]);
    apt(['update']);
    if (!apt(['install', '-y', '--no-install-recommends', 'chromium'])) process.exit(1);
    console.log(`Chromium: ${chromiumPath()}`);
  } else {
    console.error('Could not get a Chromium: install one and set CHROMIUM_PATH.');
    process.exit(1);
  }
}
