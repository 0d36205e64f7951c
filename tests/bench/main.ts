// `npm run bench`: speeds as ratios within one run, for the machine is never quiet. Prints, asserts nothing.
import { printAccuracy } from './accuracy.ts';
import { printBlunders } from './blunders.ts';
import { printDrag } from './drag.ts';
import { printLiningGrowth } from './liningGrowth.ts';
import { printSolveGrowth } from './solveGrowth.ts';
import { printSpeed } from './speed.ts';

console.log('Opening a photograph and finding its line, in Chromium');
await printSpeed();
console.log('\nFrames of the photo desk, in Chromium');
await printDrag();
console.log('\nSolving');
printSolveGrowth();
console.log('\nPlanning the lining');
printLiningGrowth();
console.log('\nMistakes named');
printBlunders();
console.log('\nAccuracy of the line');
await printAccuracy();
