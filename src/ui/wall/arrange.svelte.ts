import {
  addOpening,
  listTicks,
  moveRect,
  noAids,
  sizeRect,
  type Aids,
  type Placed,
} from '../../app/editWall.ts';
import { listThings, placeThing, removeThing, type Thing, type ThingKind } from '../../app/wallThings.ts';
import type { Survey, WallRect, WallSpot } from '../../core/survey.ts';
import type { WallFrame } from '../../draw/frame.ts';
import type { GestureTarget, Hold } from '../photo/gestures.ts';
import type { Spot } from '../photo/view.ts';
import { reachGrip, type Grip } from './grips.ts';

/** Steps of keys and of a dragging hand (mm): the usual one, a long one with Shift, a fine one with Alt. */
const steps = {
  mm: { usual: 5, long: 50, fine: 1 },
  inch: { usual: 6.35, long: 50.8, fine: 25.4 / 16 },
} as const;
/** Where one px of the drawing is more than a step, a hand cannot hold to it. */
const COARSE_PX_PER_MM = 0.2;
/** How far a dragged edge is drawn to another: on the screen (css px), but not further than this on the wall (mm). */
const PULL = { px: 6, mostMm: 30 };
/** Shorter than this along an axis is a hand that did not keep still (css px). */
const STILL_PX = 2;
/** An opening drawn smaller than this (mm) was a slip. */
const LEAST_DRAWN_MM = 50;

const arrows: Record<string, WallSpot> = {
  ArrowLeft: { along: -1, up: 0 },
  ArrowRight: { along: 1, up: 0 },
  ArrowUp: { along: 0, up: 1 },
  ArrowDown: { along: 0, up: -1 },
};

/** What the wall's elevation is worked with: what is chosen, what is held where, gestures and keys into changes of the survey. */
export class Arrange implements GestureTarget {
  /** Where the wall stands in the drawing on screen. */
  frame = $state.raw<WallFrame | null>(null);
  /** What draws out an opening where it is pressed on the wall. */
  drawing = $state.raw(false);
  /** What is held or being drawn, where the hand has it; the survey follows when the hand lets go. */
  private held = $state.raw<{ readonly grip: Grip | null; readonly placed: Placed } | null>(null);
  private chosenKey = $state.raw<string | null>(null);
  /** With Alt a hand goes by fine steps and is not drawn to anything. */
  isFree = false;
  by: 'mouse' | 'touch' = 'mouse';
  private start: Spot = { x: 0, y: 0 };
  private aids: Aids = noAids;
  private presses = 0;

  readonly things = $derived.by(() => listThings(this.survey(), this.kinds));
  /** The chosen thing as it is in the survey. */
  readonly chosen = $derived(this.things.find(({ key }) => key === this.chosenKey) ?? null);
  /** The chosen thing where the hand has it. */
  readonly shown = $derived.by((): Thing | null => {
    const { chosen, held } = this;
    return chosen && held?.grip?.thing.key === chosen.key ? { ...chosen, rect: held.placed.rect } : chosen;
  });
  readonly isHeld = $derived(this.held !== null);
  readonly guides = $derived(this.held?.placed.guides ?? null);
  /** The opening that is being drawn. */
  readonly drawn = $derived(this.held && !this.held.grip ? this.held.placed.rect : null);

  constructor(
    readonly survey: () => Survey,
    readonly kinds: readonly ThingKind[],
    private readonly change: (next: Survey, gesture: string | null) => void,
    /** The bare wall was tapped at a place (mm). */
    private readonly pick: ((at: WallSpot) => void) | null = null,
  ) {}

  choose(key: string | null): void {
    this.chosenKey = key;
  }

  hold(at: Spot): Hold {
    const grip = this.reach(at);
    if (!grip) return this.drawing && this.placeOf(at) ? 'drag' : null;
    const isChosen = grip.thing.key === this.chosenKey;
    // a finger that scrolls the page, or slips, moves nothing that was not chosen; nor does anything move a line
    return isChosen || (this.by === 'mouse' && grip.thing.kind !== 'line') ? 'drag' : null;
  }

  begin(at: Spot): void {
    const grip = this.reach(at);
    this.start = at;
    if (grip) this.choose(grip.thing.key);
    const rect = grip?.thing.rect ?? this.drawnFrom(at);
    this.aids = this.aidsFor(grip?.thing ?? null);
    this.held = { grip, placed: { rect, guides: { along: null, up: null } } };
  }

  move(at: Spot): void {
    const { held, frame } = this;
    if (!held || !frame) return;
    const by = { along: (at.x - this.start.x) / frame.perMm, up: (this.start.y - at.y) / frame.perMm };
    const aids = this.isFree ? { ...noAids, stepMm: steps[this.survey().units].fine } : this.aids;
    this.held = { ...held, placed: this.placed(held.grip, by, aids) };
  }

  end(): void {
    const { held } = this;
    this.held = null;
    if (!held) return;
    const { rect } = held.placed;
    if (held.grip) return this.change(placeThing(this.survey(), held.grip.thing, rect), null);
    if (Math.min(rect.width, rect.height) < LEAST_DRAWN_MM) return;
    this.drawing = false;
    const added = addOpening(this.survey(), rect);
    this.change(added.survey, null);
    this.choose(added.key);
  }

  cancel(): void {
    this.held = null;
  }

  tap(at: Spot): void {
    const grip = this.reach(at);
    if (grip) return this.choose(grip.thing.key);
    const place = this.placeOf(at);
    this.choose(null);
    if (place && this.pick) this.pick(place);
  }

  pan(): void {}

  pinch(): void {}

  /** A key on the chosen thing; true when it was one of its own. */
  press(key: string, { shiftKey, altKey }: Pick<KeyboardEvent, 'shiftKey' | 'altKey'>): boolean {
    const { chosen } = this;
    if (key === 'Escape') {
      this.drawing = false;
      this.choose(null);
      return true;
    }
    if (!chosen) return false;
    if (key === 'Delete' || key === 'Backspace') {
      this.change(removeThing(this.survey(), chosen), null);
      return true;
    }
    const arrow = arrows[key];
    if (arrow) this.nudge(arrow, shiftKey ? 'long' : altKey ? 'fine' : 'usual');
    return arrow !== undefined;
  }

  /** Moves the chosen thing by a step; steps of one press of a key are one step of undo. */
  nudge(way: WallSpot, step: 'usual' | 'long' | 'fine'): void {
    const { chosen } = this;
    if (!chosen) return;
    const survey = this.survey();
    const byMm = steps[survey.units][step];
    const by = this.along(chosen, { along: way.along * byMm, up: way.up * byMm });
    const { rect } = moveRect(chosen.rect, by, noAids, survey.wall);
    this.change(placeThing(survey, chosen, rect), `arrange ${chosen.key} ${this.presses}`);
  }

  release(): void {
    this.presses++;
  }

  private placed(grip: Grip | null, by: WallSpot, aids: Aids): Placed {
    const { wall } = this.survey();
    if (!grip) {
      const from = this.drawnFrom(this.start);
      const handle = { along: by.along < 0 ? -1 : 1, up: by.up < 0 ? -1 : 1 } as const;
      return sizeRect(from, handle, by, aids, wall);
    }
    const { thing, handle } = grip;
    if (handle) return sizeRect(thing.rect, handle, by, aids, wall);
    return moveRect(thing.rect, this.along(thing, by), aids, wall);
  }

  /** Of a way that which the thing can go. */
  private along({ moves }: Thing, { along, up }: WallSpot): WallSpot {
    return { along: moves === 'up' ? 0 : along, up: moves === 'along' ? 0 : up };
  }

  private aidsFor(thing: Thing | null): Aids {
    const survey = this.survey();
    const perMm = this.frame?.perMm ?? 1;
    const { usual } = steps[survey.units];
    // where a line stands was measured: it goes by plain steps and is not drawn to other things
    if (thing?.kind === 'line') return { ...noAids, stepMm: usual };
    return {
      stepMm: perMm < COARSE_PX_PER_MM ? 2 * usual : usual,
      reachMm: Math.min(PULL.px / perMm, PULL.mostMm),
      stillMm: thing ? STILL_PX / perMm : 0,
      ...listTicks(survey, thing ?? { key: '', kind: 'opening' }),
    };
  }

  private drawnFrom(at: Spot): WallRect {
    const place = this.placeOf(at) ?? { along: 0, up: 0 };
    const { usual } = steps[this.survey().units];
    const corner = moveRect(
      { along: 0, up: 0, width: 0, height: 0 },
      place,
      {
        ...this.aidsFor(null),
        stepMm: usual,
      },
      this.survey().wall,
    );
    return corner.rect;
  }

  private placeOf({ x, y }: Spot): WallSpot | null {
    const { frame } = this;
    const { width, height } = this.survey().wall;
    const [along, up] = [frame?.along(x) ?? -1, frame?.up(y) ?? -1];
    return along >= 0 && along <= width && up >= 0 && up <= height ? { along, up } : null;
  }

  private reach(at: Spot): Grip | null {
    if (!this.frame) return null;
    if (this.drawing) return null;
    return reachGrip(this.things, this.chosen, at, this.frame, this.by);
  }
}
