import { makeSpeckle } from '../../samples/make/laser.ts';
import { exposePhotograph } from '../../samples/make/photograph.ts';
import { encodePhotograph } from '../../samples/make/jpeg.ts';
import { renderUnder } from '../../samples/make/radiance.ts';
import type { Radiance } from '../../samples/make/scene.ts';
import type { Picture } from '../../src/vision/picture.ts';
import { decodePicture } from '../pictureNode.ts';
import type { TestScene } from './scenes.ts';

/**
 * A scene's light in layers, since light adds: the room alone, and each laser alone; `sum` is the whole with or without
 * speckle, the same as the renderer gives.
 */
export interface Layers {
  readonly lines: readonly Radiance[];
  readonly sum: (speckled: boolean) => Radiance;
}

const SPECKLE = 0.6;
const VIGNETTING = 0.28;
const JPEG_QUALITY = 92;
const COLOURS = ['red', 'green', 'blue'] as const;

/** Renders the layers of a scene. */
export function renderLayers({ scene, camera, options }: TestScene): Layers {
  const { seed = 1 } = options;
  const sets = [[], ...scene.lasers.map((laser) => [laser])];
  const look = { seed, exposure: 1, speckle: 0, vignetting: VIGNETTING };
  const [room, ...lines] = renderUnder(sets, scene, camera, look) as [Radiance, ...Radiance[]];
  for (const line of lines)
    for (const c of COLOURS) {
      const [lit, unlit] = [line[c], room[c]];
      for (let i = 0; i < lit.length; i++) lit[i]! -= unlit[i]!;
    }
  const speckles = lines.map((_, index) => makeSpeckle(seed * 31 + index, SPECKLE));
  const { widthPx } = camera;
  const sum = (speckled: boolean): Radiance => {
    const whole = { ...room, red: room.red.slice(), green: room.green.slice(), blue: room.blue.slice() };
    lines.forEach((line, k) => {
      for (const c of COLOURS) {
        const [from, into] = [line[c], whole[c]];
        for (let i = 0; i < from.length; i++) {
          const value = from[i]!;
          if (value !== 0)
            into[i]! += speckled ? value * speckles[k]!.at(i % widthPx, Math.floor(i / widthPx)) : value;
        }
      }
    });
    return whole;
  };
  return { lines, sum };
}

/** A scene's photograph of focused light as it comes from a file, its noise by this seed; null = without the sensor's noise. */
export async function photographScene(
  test: TestScene,
  { red, green, blue, ...size }: Radiance,
  noiseSeed: number | null,
): Promise<Picture> {
  const light = { ...size, red: red.slice(), green: green.slice(), blue: blue.slice() };
  const raw = exposePhotograph(light, {
    ...test.options,
    ...(noiseSeed === null ? { noise: 0 } : { seed: noiseSeed }),
  });
  const exif = { orientation: 1, focal35Mm: null, focalMm: 4, takenAt: '2026:01:01 10:00:00' } as const;
  return decodePicture(await encodePhotograph(raw, JPEG_QUALITY, exif), test.name);
}
