// `npm test`: everything, in the order in which a fault is cheapest to find. Goes on after a failure, counts the truth.
import { spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs';

/** @param {string} title @param {string} command @param {string[]} args */
function run(title, command, args) {
  console.log(`\n== ${title}`);
  return spawnSync(command, args, { stdio: 'inherit', shell: process.platform === 'win32' }).status === 0;
}

/**
 * Several at once, each one's output in one piece when it ends.
 * @param {[title: string, args: string[]][]} jobs npm scripts
 * @returns {Promise<boolean[]>}
 */
const runTogether = (jobs) =>
  Promise.all(
    jobs.map(
      ([title, args]) =>
        new Promise((resolve) => {
          const job = spawn('npm', args, { shell: process.platform === 'win32' });
          let said = '';
          for (const stream of [job.stdout, job.stderr]) stream.on('data', (part) => (said += part));
          job.on('close', (status) => {
            console.log(`\n== ${title}\n${said}`);
            resolve(status === 0);
          });
        }),
    ),
  );

/** @param {string} file @returns {any} */
const readReport = (file) => (existsSync(file) ? JSON.parse(readFileSync(file, 'utf8')) : undefined);

rmSync('test-results', { recursive: true, force: true });
mkdirSync('test-results', { recursive: true });
let passed = 0;
let failed = 0;
/** @param {boolean} ok */
const count = (ok) => (ok ? passed++ : failed++);

// the browser is fetched meanwhile: that is waiting more than work
const [lintOk, typesOk, formatOk, hasBrowser] = await runTogether([
  ['lint', ['run', '--silent', 'lint']],
  ['types', ['run', '--silent', 'check']],
  ['format', ['run', '--silent', 'format:check']],
  ['a browser for the tests', ['run', '--silent', 'browser']],
]);
count(typesOk === true);
count(lintOk === true);
count(formatOk === true);

const unitOk = run('unit and headless', 'npx', [
  'vitest',
  'run',
  '--reporter=default',
  '--reporter=json',
  '--outputFile.json=test-results/unit.json',
]);
const unit = readReport('test-results/unit.json');
passed += unit?.numPassedTests ?? 0;
failed += unit?.numFailedTests ?? 0;
// a file that does not load, or a runner that dies, counts although no test of it did
if (!unitOk && !unit?.numFailedTests) failed++;

if (hasBrowser) {
  const browserOk = run('browser, on the built files', 'npx', [
    'playwright',
    'test',
    '-c',
    'tests/playwright.config.ts',
  ]);
  const stats = readReport('test-results/browser.json')?.stats;
  passed += (stats?.expected ?? 0) + (stats?.flaky ?? 0);
  failed += stats?.unexpected ?? 0;
  if (!browserOk && !stats?.unexpected) failed++;
} else failed++;

console.log(`\n${passed} passed, ${failed} failed`);
process.exit(failed === 0 ? 0 : 1);
