import loadHighs from 'highs';
import wasmUrl from 'highs/runtime?url';
import type { ProgrammeSolver } from '../../src/core/lining/programme.ts';
import { makeSolver } from './solver.ts';

/** Fetches, compiles and starts HiGHS. The wasm is an ordinary hashed file of the build. */
export async function loadSolver(): Promise<ProgrammeSolver> {
  const answer = await fetch(wasmUrl);
  if (!answer.ok) throw new Error(`highs.wasm: HTTP ${answer.status}`);
  return makeSolver(await loadHighs({ wasmBinary: await answer.arrayBuffer() }));
}
