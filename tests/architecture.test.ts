import { readdirSync, readFileSync } from 'node:fs';
import { dirname, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';
import { expect, test } from 'vitest';

// The arrows of DEVELOPERS.md, "Who may import whom", as an allow-list: room -> rooms and packages it may import.
const rooms: Record<string, { rooms: string[]; packages: RegExp }> = {
  'src/core': { rooms: [], packages: /^$/ },
  'src/vision': { rooms: ['src/core'], packages: /^$/ },
  'src/draw': { rooms: ['src/core'], packages: /^d3$/ },
  'src/file': { rooms: ['src/draw', 'src/core'], packages: /^(zod|fflate|jspdf)$/ },
  'src/app': {
    rooms: ['src/file', 'src/draw', 'src/vision', 'src/core'],
    packages: /^(svelte|svelte\/.*|idb)$/,
  },
  'src/ui': { rooms: ['src/app', 'src/draw', 'src/core'], packages: /^(svelte|svelte\/.*|d3)$/ },
  workers: {
    rooms: ['src/vision', 'src/core'],
    packages:
      /^(vite|virtual:opencv-factory|opencv-wasm\/opencv\.wasm\?url|highs|highs\/runtime\?url|node:(fs|module|crypto))$/,
  },
};

const root = fileURLToPath(new URL('..', import.meta.url));
const filesUnder = (folder: string) =>
  readdirSync(resolve(root, folder), { recursive: true, encoding: 'utf8' })
    .map((name) => `${folder}/${name.replaceAll('\\', '/')}`)
    .filter((name) => /\.(ts|svelte|mjs)$/.test(name) && !name.endsWith('.d.ts'));
const roomOf = (path: string) => Object.keys(rooms).find((room) => path.startsWith(`${room}/`));
const scriptOf = (file: string) => {
  const text = readFileSync(resolve(root, file), 'utf8');
  if (!file.endsWith('.svelte')) return text;
  return [...text.matchAll(/<script[^>]*>([\s\S]*?)<\/script>/g)].map((match) => match[1]).join('\n');
};
const importsOf = (file: string) =>
  ts.preProcessFile(scriptOf(file), true, true).importedFiles.map(({ fileName }) => fileName);

/** Every import of a room's files that its row does not allow, as "file imports what". */
function forbiddenImports(room: string): string[] {
  const allowed = rooms[room]!;
  return filesUnder(room).flatMap((file) =>
    importsOf(file)
      .filter((target) => {
        if (!target.startsWith('.')) return !allowed.packages.test(target);
        const path = relative(root, resolve(root, dirname(file), target)).replaceAll('\\', '/');
        if (path.startsWith('samples/')) return room !== 'src/app';
        const to = roomOf(path);
        return to !== room && !(to !== undefined && allowed.rooms.includes(to));
      })
      .map((target) => `${file} imports ${target}`),
  );
}

test.each(Object.keys(rooms))('%s imports only what its row allows', (room) => {
  expect(forbiddenImports(room)).toEqual([]);
});

test('the guard looked at the whole house', () => {
  for (const room of Object.keys(rooms)) expect(filesUnder(room).length, room).toBeGreaterThan(1);
  expect(Object.keys(rooms).flatMap(filesUnder).length).toBeGreaterThan(40);
  expect(filesUnder('src/core').flatMap(importsOf).length).toBeGreaterThan(10);
});

test('every source file stands in a room', () => {
  const strays = filesUnder('src').filter((file) => roomOf(file) === undefined);
  expect(strays).toEqual(['src/main.ts']);
});

test('the core reads no clock and throws no dice', () => {
  const impure = /\bMath\.random\b|\bDate\b|\bperformance\b|\bfetch\b|\bconsole\b/;
  const offenders = filesUnder('src/core').filter((file) => {
    const code = readFileSync(resolve(root, file), 'utf8').replace(/\/\*[\s\S]*?\*\/|\/\/.*$/gm, '');
    return impure.test(code);
  });
  expect(offenders).toEqual([]);
});

test('files stay short: .ts at most 400 lines, .svelte at most 250', () => {
  const long = Object.keys(rooms)
    .flatMap(filesUnder)
    .map((file) => ({ file, lines: readFileSync(resolve(root, file), 'utf8').split('\n').length }))
    .filter(({ file, lines }) => lines > (file.endsWith('.svelte') ? 250 : 400));
  expect(long).toEqual([]);
});

test('worker files only carry messages: under 40 lines each', () => {
  const workers = filesUnder('workers').filter((file) => file.endsWith('.worker.ts'));
  expect(workers.length).toBe(3);
  for (const file of workers)
    expect(readFileSync(resolve(root, file), 'utf8').trim().split('\n').length, file).toBeLessThan(40);
});
