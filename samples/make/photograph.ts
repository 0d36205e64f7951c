import type { Camera } from '../../src/core/camera/camera.ts';
import type { Picture } from '../../src/vision/picture.ts';
import { renderRadiance } from './radiance.ts';
import type { Radiance, Scene } from './scene.ts';
import { exposeSensor, focusLight } from './sensor.ts';
import { shakeLight, type Shake } from './shake.ts';

/** How a photograph is taken; everything has a phone's usual value. */
export interface PhotographOptions {
  readonly seed?: number;
  readonly exposure?: number;
  /** Share of a phone's usual noise; 0 = none. */
  readonly noise?: number;
  /** Standard deviation of the logarithm of the laser's speckle; 0 = none. */
  readonly speckle?: number;
  readonly sharpening?: number;
  readonly vignetting?: number;
  /** Blur of lens and demosaicing, px (sigma). */
  readonly blurPx?: number;
  /** Movement of the hand while the picture is taken. */
  readonly shake?: Shake;
}

/** The options that leave nothing to chance and change no line's shape: for exact comparisons. */
export const CLEAN: PhotographOptions = { noise: 0, speckle: 0, sharpening: 0, vignetting: 0 };

/** Takes the picture that a camera sees of a scene, RGBA of the camera's size; the same seed gives the same bytes. */
export function renderPhotograph(scene: Scene, camera: Camera, options: PhotographOptions = {}): Picture {
  const { seed = 1, exposure = 1, speckle = 0.6, vignetting = 0.28 } = options;
  return developPhotograph(renderRadiance(scene, camera, { seed, exposure, speckle, vignetting }), options);
}

/** The picture that the sensor makes of the light (which is used up). */
export function developPhotograph(light: Radiance, options: PhotographOptions): Picture {
  return exposePhotograph(focusPhotograph(light, options), options);
}

/** The light (which is used up) as it falls on the sensor, after shake and lens: the same for all noise. */
export function focusPhotograph(light: Radiance, { blurPx = 0.65, shake }: PhotographOptions): Radiance {
  const shaken = shake ? shakeLight(light, shake) : light;
  focusLight(shaken, blurPx);
  return shaken;
}

/** The picture that the sensor makes of light that fell on it (which is used up). */
export function exposePhotograph(light: Radiance, options: PhotographOptions): Picture {
  const { seed = 1, noise = 1, sharpening = 0.5 } = options;
  return exposeSensor(light, { seed, noise, sharpening });
}
