import type { ProposalState } from '../../app/proposing.svelte.ts';
import type { ImagePoint } from '../../core/camera/frames.ts';
import type { LaserLine, Photo, Survey } from '../../core/survey.ts';
import { pointsInReach, previewPush } from './brush.ts';
import { markSigma } from './marks/markSigma.ts';
import {
  centreView,
  fitView,
  frameMiddle,
  shiftView,
  zoomView,
  type Size,
  type Spot,
  type View,
} from './view.ts';

/** What the desk works on; `picture` is the size (px) that image points refer to. */
export interface Doc {
  readonly survey: Survey;
  readonly photo: Photo;
  readonly picture: Size;
  /** Points are being looked for, so the ones here are about to be replaced. */
  readonly busy: boolean;
  /** Lines that are seen in the picture of themselves; null = not looked for. */
  readonly proposals?: ProposalState | null;
}

export type Panel = 'line' | 'marks' | 'stand' | 'points';
/** What a finger on the picture does. */
export type Tool = 'pick' | 'push' | 'add' | 'erase' | 'gap' | 'mark' | 'mask' | 'block' | 'measure' | 'pin';

/** What is chosen, and how many there were then: an edit elsewhere must not make the choice mean another one. */
interface Chosen {
  readonly kind: 'point' | 'mark';
  readonly index: number;
  readonly count: number;
}

/** What a gesture that is going on would do; the survey changes when it ends. */
export type Live =
  | { readonly kind: 'point' | 'mark'; readonly index: number; readonly at: ImagePoint }
  | { readonly kind: 'draft' | 'place'; readonly at: ImagePoint }
  | { readonly kind: 'stretch' | 'push'; readonly from: ImagePoint; readonly at: ImagePoint }
  | {
      readonly kind: 'erase';
      readonly path: readonly ImagePoint[];
      readonly at: ImagePoint;
      /** Points that lie under the disc so far, by their number. */
      readonly hit: ReadonlySet<number>;
    };

/** How a tape lies on the wall: along which axis, where across it, and where its zero is (mm); `place` = no tape. */
export interface TapeLie {
  readonly kind: 'along' | 'up' | 'place';
  readonly acrossMm: number | null;
  readonly zeroMm: number;
}

/** A press on the picture, snapped to a graduation or not, with the sigma (px) of the mark that it makes. */
export interface Placed extends ImagePoint {
  readonly sigmaPx: number;
  readonly snapped: boolean;
}

/** Nearness at which single pixels of a point can be told (css px per px). */
const CLOSE_SCALE = 4;

/** A push in hand is drawn and told by so many of its points. */
const PUSH_DRAWN = 60;
/** A push reaches this share of the picture's long side to either side unless told otherwise, and at most so much. */
const REACH_SHARE = 0.02;
const MOST_REACH_SHARE = 0.25;
const LEAST_REACH_PX = 4;
/** Radius of the disc that erases (css px): a finger's tip, and its limits. */
const DISC_PX = 14;
const LEAST_DISC_PX = 5;
const MOST_DISC_PX = 64;
/** One step of a brush's size. */
const BRUSH_STEP = 1.25;

/** The state of one photo's desk: what is chosen, which tool, how the picture lies, what a gesture is doing. */
export class Work {
  panel = $state<Panel>('line');
  tool = $state<Tool>('pick');
  live = $state.raw<Live | null>(null);
  /** A mark put on the picture whose place on the wall is not typed yet. */
  draft = $state.raw<Placed | null>(null);
  /** Marks go to the graduation they are pressed near; `exact` holds that back while a key is down. */
  snapping = $state(true);
  exact = $state(false);
  /** The graduation that a press there means, if any; set by the desk, which has the pixels. */
  graduation: (at: ImagePoint) => ImagePoint | null = () => null;
  /** The guide asks, so that it has the main button; it takes marks as they are pressed, and shows where one should be. */
  guided = $state(false);
  onMark: ((at: Placed) => void) | null = null;
  foreseen = $state.raw<(ImagePoint & { readonly sigmaPx: number }) | null>(null);
  /** Two places of the wall between which to measure; the second is still to be tapped where it is null. */
  span = $state.raw<{ readonly from: ImagePoint; readonly to: ImagePoint | null } | null>(null);
  /** Where the keys are, for tools that place. */
  cursor = $state.raw<ImagePoint | null>(null);
  /** Under the mouse, for the magnifier of tools that place and the guide on the chart. */
  hover = $state.raw<ImagePoint | null>(null);
  /** The place of the line that the chart is asked about: shown on the picture too. */
  guide = $state.raw<ImagePoint | null>(null);
  /** Radius of the disc that erases (css px). */
  discPx = $state(DISC_PX);
  pointsShown = $state(true);
  frame = $state.raw<Size>({ width: 0, height: 0 });
  view = $state.raw<View>({ scale: 1, x: 0, y: 0 });
  /** The view that things are painted for: while the picture moves they are carried along to `view`, and painted anew when it rests. */
  rest = $state.raw<View>({ scale: 1, x: 0, y: 0 });
  /** Thickness of the packer that is about to be marked (mm); null = not typed yet. */
  packerMm = $state<number | null>(null);
  /** How marks are placed on the wall: read off a tape that lies so, or typed. */
  lie = $state.raw<TapeLie | null>(null);
  private chosenRaw = $state.raw<Chosen | null>(null);
  private lineId = $state<string | null>(null);
  private ownReachPx = $state<number | null>(null);

  readonly photo = $derived.by(() => this.doc().photo);
  readonly survey = $derived.by(() => this.doc().survey);
  readonly busy = $derived.by(() => this.doc().busy);
  readonly picture = $derived.by(() => this.doc().picture);
  readonly proposals = $derived.by(() => this.doc().proposals ?? null);
  private readonly longPx = $derived.by(() => Math.max(this.picture.width, this.picture.height));
  /** How far a push reaches to either side along the line (px of the picture). */
  readonly reachPx = $derived.by(() => this.ownReachPx ?? Math.round(REACH_SHARE * this.longPx));
  /** The line that the points panel, the chart and the tools are about. */
  readonly line: LaserLine | null = $derived.by(
    () => this.photo.lines.find((line) => line.id === this.lineId) ?? this.photo.lines[0] ?? null,
  );
  readonly chosen = $derived.by(() => {
    const chosen = this.chosenRaw;
    const items = chosen?.kind === 'mark' ? this.photo.marks : (this.line?.points ?? []);
    return chosen && chosen.count === items.length ? chosen : null;
  });
  /** Where the chosen point or mark is now, a gesture included. */
  readonly chosenAt = $derived.by((): ImagePoint | null => {
    const { chosen, live } = this;
    if (!chosen) return null;
    if (live?.kind === chosen.kind && live.index === chosen.index) return live.at;
    return (chosen.kind === 'mark' ? this.photo.marks : this.line!.points)[chosen.index] ?? null;
  });

  /** Where the mark in hand would go to: the graduation beside it. */
  readonly snapped = $derived.by((): ImagePoint | null => {
    const { live, tool } = this;
    const marking =
      live?.kind === 'draft' || live?.kind === 'mark' || (live?.kind === 'place' && tool === 'mark');
    return marking && this.snapping && !this.exact ? this.graduation(live.at) : null;
  });
  // the same one as long as the push goes on, so that its points are chosen once
  private readonly pushFrom = $derived.by(() => (this.live?.kind === 'push' ? this.live.from : null));
  private readonly pushable = $derived.by(() =>
    this.line && this.pushFrom ? pointsInReach(this.line, this.pushFrom, this.reachPx, PUSH_DRAWN) : [],
  );
  /** What a push in hand moves of the line, by some of its points. */
  readonly pushed = $derived.by(() =>
    this.live?.kind === 'push' ? previewPush(this, this.live, this.pushable) : [],
  );

  constructor(
    private readonly doc: () => Doc,
    private readonly onChange: (next: Survey) => void,
    private readonly onFollow: (next: Survey, lineId: string) => void = onChange,
  ) {}

  /** A press that sets a mark: snapped where a graduation is beside it, and taken by the guide or left to be named. */
  placeMark(at: ImagePoint, snapped: ImagePoint | null): void {
    const { u, v } = snapped ?? at;
    const placed = { u, v, sigmaPx: markSigma(this.view.scale, snapped !== null), snapped: snapped !== null };
    if (this.onMark) this.onMark(placed);
    else this.draft = placed;
  }

  /** Hands a changed survey on; the same survey is no step. */
  change(next: Survey): void {
    if (next !== this.survey) this.onChange(next);
  }

  /** Hands a changed survey on whose line is to be looked for anew with it. */
  follow(next: Survey, lineId: string): void {
    this.chooseNone();
    this.onFollow(next, lineId);
  }

  choose(kind: Chosen['kind'], index: number): void {
    const items = kind === 'mark' ? this.photo.marks : (this.line?.points ?? []);
    this.chosenRaw = index >= 0 && index < items.length ? { kind, index, count: items.length } : null;
    if (this.chosenRaw) this.panel = kind === 'mark' ? 'marks' : 'points';
  }

  chooseNone(): void {
    this.chosenRaw = null;
  }

  chooseLine(id: string): void {
    if (this.line?.id === id) return;
    this.lineId = id;
    this.chosenRaw = null;
  }

  /** Opens what an address names: "mark 2", "line l1", "marks", "stand". */
  showPart(part: string): void {
    const [kind, name = ''] = part.split(/ (.*)/);
    if (kind === 'mark') this.choose('mark', Number(name) - 1);
    else if (kind === 'line') {
      this.chooseLine(name);
      this.openPanel('line');
    } else if (kind === 'marks' || kind === 'stand') this.openPanel(kind);
  }

  /** Opens a panel; a tool that belongs to another one is put down. */
  openPanel(panel: Panel): void {
    this.panel = panel;
    this.takeTool('pick');
  }

  /** Takes up a tool, or puts it down when it is taken already. */
  takeTool(tool: Tool): void {
    this.tool = this.tool === tool ? 'pick' : tool;
    this.live = null;
    this.cursor = null;
    if (this.tool !== 'mark') this.draft = null;
  }

  /** Makes the brush that is taken larger (1) or smaller (-1) by a step. */
  resizeBrush(step: 1 | -1): void {
    const factor = BRUSH_STEP ** step;
    const within = (value: number, least: number, most: number) => Math.min(most, Math.max(least, value));
    if (this.tool === 'erase') this.discPx = within(this.discPx * factor, LEAST_DISC_PX, MOST_DISC_PX);
    else this.ownReachPx = within(this.reachPx * factor, LEAST_REACH_PX, MOST_REACH_SHARE * this.longPx);
  }

  /** The frame was laid out anew: a picture that was shown whole stays so, of one that was not what is in the middle. */
  setFrame(frame: Size): void {
    const before = this.frame;
    if (frame.width === before.width && frame.height === before.height) return;
    const whole = before.width === 0 || this.view.scale <= fitView(this.picture, before).scale * 1.001;
    this.frame = frame;
    // a phone is turned, or a number pad takes its room
    this.view = whole
      ? fitView(this.picture, frame)
      : zoomView(this.view, frameMiddle(before), 1, this.picture, frame, frameMiddle(frame));
  }

  showWhole(): void {
    this.view = fitView(this.picture, this.frame);
  }

  /** Nearer by `factor` about a place in the frame, its middle unless told; that place goes to `to`. */
  zoom(factor: number, at: Spot = frameMiddle(this.frame), to = at): void {
    this.view = zoomView(this.view, at, factor, this.picture, this.frame, to);
  }

  pan(by: Spot): void {
    this.view = shiftView(this.view, by, this.picture, this.frame);
  }

  /** Brings an image point into the middle, near enough to see its pixels. */
  showClose(at: ImagePoint): void {
    this.view = centreView(this.view, at, CLOSE_SCALE, this.picture, this.frame);
  }
}
