import type { Size, Spot } from './view.ts';

/** Side of the magnifier, and how far its middle is from the finger at least (css px): it stays clear of a gloved fingertip. */
export const LOUPE_PX = 132;
export const AWAY_PX = 112;
/** Above the finger it stands a little to the side that the hand does not cover. */
const ASIDE_PX = 30;

/**
 * Where the magnifier's upper left corner is (css px in the frame) for a finger at `spot`: above it, else beside it on the side the hand
 * does not cover, else on the other, else under it; always inside a frame that has room for it, never under the finger.
 * @example placeLoupe({ x: 400, y: 300 }, { width: 800, height: 600 }, 'right') // { x: 304, y: 122 }
 */
export function placeLoupe(spot: Spot, frame: Size, hand: 'left' | 'right'): Spot {
  const [half, away] = [LOUPE_PX / 2, hand === 'right' ? -1 : 1];
  const places = [
    { x: spot.x + away * ASIDE_PX, y: spot.y - AWAY_PX },
    { x: spot.x + away * AWAY_PX, y: spot.y },
    { x: spot.x - away * AWAY_PX, y: spot.y },
    { x: spot.x + away * ASIDE_PX, y: spot.y + AWAY_PX },
  ].map(({ x, y }) => ({ x: hold(x, frame.width), y: hold(y, frame.height) }));
  const apart = ({ x, y }: Spot) => Math.max(Math.abs(x - spot.x), Math.abs(y - spot.y));
  // held inside, a place may come nearer than it should: the first that does not, else the farthest
  const clear = places.find((place) => apart(place) >= AWAY_PX - 1e-9);
  const { x, y } = clear ?? places.reduce((best, each) => (apart(each) > apart(best) ? each : best));
  return { x: x - half, y: y - half };
}

/** A middle moved so that the magnifier lies inside a room. */
function hold(middle: number, room: number): number {
  return Math.min(Math.max(room - LOUPE_PX / 2, LOUPE_PX / 2), Math.max(LOUPE_PX / 2, middle));
}
