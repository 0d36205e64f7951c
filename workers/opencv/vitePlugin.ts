import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Plugin } from 'vite';

const ID = 'virtual:opencv-factory';
const RESOLVED = '\0' + ID;

/** Replace `find` exactly `times` times or stop the build: a changed upstream file must not pass unnoticed. */
function swap(src: string, find: string, put: string, times = 1): string {
  const parts = src.split(find);
  if (parts.length - 1 !== times) {
    throw new Error(
      `opencv-wasm/opencv.js: expected ${times} × ${JSON.stringify(find.slice(0, 60))}, found ${parts.length - 1}`,
    );
  }
  return parts.join(put);
}

/**
 * Serves opencv-wasm's UMD glue (opencv.js, 404 kB) as an ES module that exports the emscripten
 * factory instead of running it: no Node branch, no synchronous XHR, no opencv-bin.js.
 */
export function toFactoryModule(umd: string): string {
  let s = umd;
  // 1. these two file-level variables become parameters of the factory below
  s = swap(s, 'let Module = {};\n', '');
  s = swap(s, "let opencvWasmBinaryFile = './opencv.wasm';\n", '');
  // 2. `cv.then` makes the module object look like a promise: awaiting it would never end
  s = swap(s, 'Module["then"] = function(func)', 'var unusedThen = function(func)');
  // 3. embind generates its glue with `new Function` in three places; closures do the same
  //    without needing 'unsafe-eval' in the Content-Security-Policy
  s = swap(
    s,
    `return new Function("body", "return function " + name + "() {\\n" + '    "use strict";' + "    return body.apply(this, arguments);\\n" + "};\\n")(body)`,
    `return Object.defineProperty(function() { return body.apply(this, arguments) }, "name", { value: name })`,
  );
  s = swap(
    s,
    'return new Function("dynCall", "rawFunction", body)(dynCall, rawFunction)',
    'return function(...args) { return dynCall(rawFunction, ...args) }',
  );
  s = swap(
    s,
    'var invokerFunction = new_(Function, args1).apply(null, args2);',
    `var invokerFunction = __invoker(humanName, argTypes, isClassMethodFunc, needsDestructorStack, returns, cppInvokerFunc, cppTargetFunc, throwBindingError, runDestructors);`,
  );
  return `
// what embind's generated invokers do, as a closure (craftInvokerFunction, emscripten 1.39.4)
function __invoker(humanName, argTypes, isMethod, needsStack, returns, invoker, fn, throwBindingError, runDestructors) {
  const ret = argTypes[0], self = argTypes[1], types = argTypes.slice(2), n = types.length;
  return function (...args) {
    if (args.length !== n) throwBindingError("function " + humanName + " called with " + args.length + " arguments, expected " + n + " args!");
    const destructors = needsStack ? [] : null;
    const wired = [fn];
    if (isMethod) wired.push(self.toWireType(destructors, this));
    const off = wired.length;
    for (let i = 0; i < n; i++) wired.push(types[i].toWireType(destructors, args[i]));
    const rv = invoker(...wired);
    if (needsStack) runDestructors(destructors);
    else {
      if (isMethod && self.destructorFunction !== null) self.destructorFunction(wired[1]);
      for (let i = 0; i < n; i++) if (types[i].destructorFunction !== null) types[i].destructorFunction(wired[off + i]);
    }
    if (returns) return ret.fromWireType(rv);
  };
}
export default function opencvFactory(Module) {
  const opencvWasmBinaryFile = 'opencv.wasm';
  const module = { exports: {} }, exports = module.exports;
  // hide the host's module systems and Node: the glue then takes neither branch
  let define, require, process, __filename, __dirname, window, document;
  (function () {
${s}
  }).call({});
  return module.exports;
}
`;
}

export function opencvPlugin(): Plugin {
  return {
    name: 'opencv-factory',
    resolveId(id) {
      if (id === ID) return RESOLVED;
    },
    load(id) {
      if (id !== RESOLVED) return;
      const file = createRequire(import.meta.url).resolve('opencv-wasm/opencv.js');
      return { code: toFactoryModule(readFileSync(file, 'utf8')), map: null };
    },
  };
}
