/** What may be chosen of how the page looks and is held; the first of each is usual. */
export const lookChoices = {
  look: ['device', 'light', 'dark'],
  hand: ['right', 'left'],
  size: ['usual', 'large'],
} as const;
export type LookKey = keyof typeof lookChoices;
export type LookChoice = { readonly [K in LookKey]: (typeof lookChoices)[K][number] };

/** What is kept on the device: the choices, and the hints that were put away. */
export interface KeptLook extends LookChoice {
  readonly hintsGone: readonly string[];
}

/** Its name among what the device keeps; `public/look.js` reads it before the first paint. */
export const LOOK_KEY = 'bedplane look';

/**
 * The choices in a text as kept; the usual one for each that is missing or not known.
 * @example readLook('{"hand":"left"}') // { look: 'device', hand: 'left', size: 'usual', hintsGone: [] }
 * @example readLook('not ours').look // 'device'
 */
export function readLook(text: string | null): KeptLook {
  let kept: Partial<Record<string, unknown>> = {};
  try {
    const read: unknown = JSON.parse(text ?? '{}');
    if (typeof read === 'object' && read !== null) kept = read;
  } catch {
    // not ours: as if nothing were kept
  }
  const choose = <K extends LookKey>(key: K): LookChoice[K] => {
    const choices: readonly LookChoice[LookKey][] = lookChoices[key];
    return (choices.find((choice) => choice === kept[key]) ?? choices[0]) as LookChoice[K];
  };
  const gone = Array.isArray(kept.hintsGone) ? kept.hintsGone : [];
  return {
    look: choose('look'),
    hand: choose('hand'),
    size: choose('size'),
    hintsGone: gone.filter((each) => typeof each === 'string'),
  };
}

/**
 * How the page looks on this device. Kept where it can be read at once (localStorage), not with the surveys, so that the page
 * is never painted in the wrong look first. Printing is always light.
 */
export class Look {
  private kept = $state.raw(readLook(null));
  private deviceDark = $state(false);
  private printing = $state(false);
  readonly chosen = $derived<LookChoice>(this.kept);
  readonly dark = $derived(this.kept.look === 'device' ? this.deviceDark : this.kept.look === 'dark');
  /** Drawings are made for the screen's dark look: not while they are being printed. */
  readonly drawnDark = $derived(this.dark && !this.printing);

  /** `flush` brings a change on screen at once: a print does not wait. */
  constructor(private readonly flush: (change: () => void) => void) {
    try {
      this.kept = readLook(localStorage.getItem(LOOK_KEY));
    } catch {
      // a device that keeps nothing: the usual look
    }
    const dark = matchMedia('(prefers-color-scheme: dark)');
    const paper = matchMedia('print');
    this.deviceDark = dark.matches;
    this.printing = paper.matches;
    dark.addEventListener('change', () => {
      this.deviceDark = dark.matches;
      this.show();
    });
    const turn = (printing: boolean) => this.flush(() => (this.printing = printing));
    paper.addEventListener('change', () => turn(paper.matches));
    addEventListener('beforeprint', () => turn(true));
    addEventListener('afterprint', () => turn(false));
    this.show();
  }

  choose<K extends LookKey>(key: K, value: LookChoice[K]): void {
    this.keep({ ...this.kept, [key]: value });
  }

  hasHint(name: string): boolean {
    return !this.kept.hintsGone.includes(name);
  }

  putHintAway(name: string): void {
    if (this.hasHint(name)) this.keep({ ...this.kept, hintsGone: [...this.kept.hintsGone, name] });
  }

  bringHintsBack(): void {
    this.keep({ ...this.kept, hintsGone: [] });
  }

  private keep(next: KeptLook): void {
    this.kept = next;
    try {
      localStorage.setItem(LOOK_KEY, JSON.stringify(next));
    } catch {
      // a device that keeps nothing: it lasts as long as the page
    }
    this.show();
  }

  /** What the style sheet goes by; and the browser's own bars, which take the colour of the one `meta` that holds. */
  private show(): void {
    const { dataset } = document.documentElement;
    dataset.look = this.dark ? 'dark' : 'light';
    dataset.hand = this.kept.hand;
    dataset.size = this.kept.size;
    for (const meta of document.querySelectorAll<HTMLMetaElement>('meta[name=theme-color]')) {
      const scheme = (meta.dataset.scheme ??= meta.media.includes('dark') ? 'dark' : 'light');
      meta.media =
        this.kept.look === 'device'
          ? `(prefers-color-scheme: ${scheme})`
          : scheme === this.kept.look
            ? 'all'
            : 'not all';
    }
  }
}
