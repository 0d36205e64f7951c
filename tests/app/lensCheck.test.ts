import { afterEach, expect, test } from 'vitest';
import { LensChecking } from '../../src/app/lensCheck.svelte.ts';
import type { WorkerLike } from '../../src/app/workers.ts';
import type { EdgeAsk } from '../../src/vision/edgeAsk.ts';
import { traceEdge } from '../../src/vision/edgeTrace.ts';
import { outcomeOfError } from '../../src/vision/messages.ts';
import { drawEdges, showPlace, type MadeEdge } from '../vision/edgePictures.ts';

const k1 = -0.02;
const around: readonly MadeEdge[] = [
  {
    kind: 'dark',
    ends: [
      [-700, -480],
      [690, -510],
    ],
  },
  {
    kind: 'edge',
    ends: [
      [640, -450],
      [660, 440],
    ],
  },
];
const picture = drawEdges(around, k1, 5);
/** The start of a PNG: enough to tell what it is. */
const png = (name: string) => new File([Uint8Array.of(137, 80, 78, 71, 13, 10, 26, 10, 0, 0, 0, 13)], name);

/** A worker that follows edges in the made picture, whatever file it is given. */
function startWorker(): WorkerLike {
  const worker: WorkerLike = {
    onmessage: null,
    onerror: null,
    terminate: () => undefined,
    postMessage: (message) => {
      const { id, ask } = message as { id: number; ask: EdgeAsk<Blob> };
      const tell = (outcome: unknown) =>
        queueMicrotask(() => worker.onmessage?.({ data: { kind: 'end', id, outcome } } as MessageEvent));
      try {
        const traced = traceEdge(picture, ask.from, ask.to, ask.tapPx, ask.edge);
        const { widthPx, heightPx } = picture;
        tell({ ok: true, value: { widthPx, heightPx, traced } });
      } catch (thrown) {
        tell(outcomeOfError(thrown));
      }
    },
  };
  return worker;
}

let checking: LensChecking;
afterEach(() => checking.close());
const follow = ({ ends }: MadeEdge) => {
  const [from, to] = ends.map((end) => showPlace(end, k1));
  return checking.follow(from!, to!, 10);
};

test('from an empty check to a lens: every state says what is missing', async () => {
  checking = new LensChecking(startWorker);
  expect(checking.finding).toEqual({ check: null, stop: { code: 'edges_few', count: 0 } });
  await follow(around[0]!);
  expect(checking.edges).toEqual([]);
  const refused = await checking.add([png('a.png'), new File([Uint8Array.of(1, 2, 3)], 'notes.txt')]);
  expect(refused).toEqual([{ code: 'not_a_picture', file: 'notes.txt' }]);
  expect(checking.shown!.name).toBe('a.png');
  expect(checking.focalKnown).toBe(false);
  const first = follow(around[0]!);
  expect(checking.busy).toBe(true);
  await first;
  expect(checking.busy).toBe(false);
  expect(checking.finding.stop).toEqual({ code: 'edges_few', count: 1 });
  await follow(around[1]!);
  const { check } = checking.finding;
  // no focal length in the picture: 26 mm is taken, so that k1 goes with its square
  const focalRatio = ((26 / 36) * 1600) / 1160;
  expect(check!.k1 / (k1 * focalRatio ** 2)).toBeGreaterThan(0.97);
  expect(check!.k1 / (k1 * focalRatio ** 2)).toBeLessThan(1.03);
  expect(check!.sigma / Math.abs(check!.k1)).toBeCloseTo(0.6, 1);
});

test('an edge that cannot be followed says so and harms nothing; taken away, the rest stays', async () => {
  checking = new LensChecking(startWorker);
  await checking.add([png('a.png')]);
  await follow(around[0]!);
  await checking.follow({ u: 500, v: 400 }, { u: 1100, v: 700 }, 10);
  await follow(around[1]!);
  expect(checking.edges.map(({ outcome }) => outcome.state)).toEqual(['done', 'stopped', 'done']);
  expect(checking.edges[1]!.outcome).toMatchObject({ stop: { code: 'edge_not_traced', edge: 1 } });
  expect(checking.finding.check).not.toBeNull();
  checking.remove(checking.edges[0]!.id);
  expect(checking.finding.stop).toEqual({ code: 'edges_few', count: 1 });
});
