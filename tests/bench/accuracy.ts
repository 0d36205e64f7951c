// How well the line of every made scene is found, beside what its noise and its speckle allow.
import { measureShot, takeLineShots, type Accuracy } from '../truth/lineAccuracy.ts';
import { lineScenes } from '../truth/lineScenes.ts';

const HEAD = 'cover astray susp    bias  floor   rms1  bound1  ratio  rms50  bound50 ratio   sd  corr';

export function row(a: Accuracy): string {
  const px = (value: number) => value.toFixed(4).padStart(7);
  const ratio = (value: number) => value.toFixed(2).padStart(5);
  return [
    (100 * a.coverage).toFixed(1).padStart(5),
    String(a.astray).padStart(5),
    (100 * a.suspect).toFixed(1).padStart(5),
    px(a.biasPx),
    px(a.floorBiasPx),
    px(a.rmsPx),
    px(a.boundPx),
    ratio(a.rmsPx / a.boundPx),
    px(a.rms50Px),
    px(a.bound50Px),
    ratio(a.rms50Px / a.bound50Px),
    ratio(a.standardSpread),
    a.correlationPx.toFixed(1).padStart(5),
  ].join(' ');
}

/** Prints the table of accuracy: per scene, without and with speckle, found against the bound. */
export async function printAccuracy(only = ''): Promise<void> {
  console.log(`${'scene'.padEnd(36)} ${HEAD}`);
  for (const scene of lineScenes.filter(({ name }) => name.includes(only))) {
    const [still, speckled] = await takeLineShots(scene);
    console.log(`${scene.name.padEnd(26)} still    ${row(measureShot(still))}`);
    console.log(`${''.padEnd(26)} speckled ${row(measureShot(speckled))}`);
  }
}

if (process.argv[1]?.endsWith('accuracy.ts')) await printAccuracy(process.argv[2]);
