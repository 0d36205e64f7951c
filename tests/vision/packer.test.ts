import { expect, test } from 'vitest';
import { weighBlock } from '../../src/core/camera/blockEvidence.ts';
import { CAMERA_PARAMETERS } from '../../src/core/camera/projection.ts';
import type { Photo } from '../../src/core/survey.ts';
import { findLine } from '../../src/vision/findLines.ts';
import { ON, trueLight } from '../truth/lineLight.ts';
import { makeScene, takePhotograph } from '../truth/scenes.ts';

const certain = new Float64Array(CAMERA_PARAMETERS ** 2);

test.each([
  ['painted', 15],
  ['brick', 30],
] as const)(
  'a packer on a photographed %s wall, %i mm thick, measures so by its line as found',
  (kind, proud) => {
    const packer = { id: 'b1', kind: 'box', along: 1480, up: 1200, width: 120, height: 120, proud };
    const options = { widthPx: 1280, heightPx: 480, aim: 0.2, kind, boxes: [packer], seed: proud } as const;
    const scene = makeScene('packer', options);
    const light = trueLight(scene);
    const picture = takePhotograph(scene);
    const { camera, laser } = scene;
    const { axis, at, colour } = laser!;
    const line = findLine(picture, { axis, colour })!;
    const face = Array.from(light.on.keys()).filter((x) => light.on[x] === ON.box);
    const block = { line: 'l1', from: face[0]!, to: face[face.length - 1]!, thickness: proud, sigma: 0.1 };
    const photo: Photo = {
      id: 'f1',
      file: 'f1.jpg',
      phone: 'p1',
      stand: { off: null, up: null, along: null, sigma: 10 },
      marks: [],
      tapes: [],
      masks: [],
      lines: [{ id: 'l1', colour, sheet: { axis, at }, points: line.points, gaps: [] }],
      blocks: [block],
    };
    const { measuredMm, sigmaMm, w } = weighBlock({ camera, covariance: certain }, photo, block)!;
    expect(Math.abs(w)).toBeLessThan(3);
    expect(Math.abs(measuredMm - proud)).toBeLessThan(1);
    expect(sigmaMm).toBeGreaterThan(0.05);
    expect(sigmaMm).toBeLessThan(1);
  },
);
