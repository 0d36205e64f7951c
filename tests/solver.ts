import loadHighs from 'highs';
import { makeSolver } from '../workers/highs/solver.ts';

/** The solver of linear programmes as the page's worker has it, started in Node. */
export const solver = makeSolver(await loadHighs());
