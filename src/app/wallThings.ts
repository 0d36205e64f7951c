import type { Survey, WallRect } from '../core/survey.ts';
import { stretchOf } from '../draw/wallLines.ts';
import { setSheet } from './editLines.ts';
import { setReading } from './editReadings.ts';

export type ThingKind = 'opening' | 'box' | 'reading' | 'line';

/** What can be arranged on the wall, all as rectangles (mm): a reading has no width and height, a line only one of them. */
export interface Thing {
  /** Kind and id, unique on the wall: "opening o1", "line f1/l1". */
  readonly key: string;
  readonly kind: ThingKind;
  readonly id: string;
  /** What the trade calls it: "window", "socket", "reading", "level line". */
  readonly noun: string;
  readonly rect: WallRect;
  /** Which way it can be moved. */
  readonly moves: 'both' | 'along' | 'up';
  /** Of a line: the ids of its photo and its own. */
  readonly of?: { readonly photo: string; readonly line: string };
}

export const canSize = ({ kind }: Thing): boolean => kind === 'opening' || kind === 'box';

function listLines({ photos, wall }: Survey): Thing[] {
  return photos.flatMap((photo) =>
    photo.lines.flatMap(({ id, sheet }): Thing[] => {
      if (sheet.at === null) return [];
      const [from, to] = stretchOf(photo, sheet, wall);
      const isLevel = sheet.axis === 'level';
      const name = `${photo.id}/${id}`;
      return [
        {
          key: `line ${name}`,
          kind: 'line',
          id: name,
          noun: `${sheet.axis} line`,
          rect: isLevel
            ? { along: from, up: sheet.at, width: to - from, height: 0 }
            : { along: sheet.at, up: from, width: 0, height: to - from },
          moves: isLevel ? 'up' : 'along',
          of: { photo: photo.id, line: id },
        },
      ];
    }),
  );
}

/** The things of some kinds, in the order in which they lie on each other: openings first, readings on top. */
export function listThings(survey: Survey, kinds: readonly ThingKind[]): Thing[] {
  const { openings, boxes } = survey.wall;
  const ofRect = (kind: 'opening' | 'box') => (item: WallRect & { id: string; kind: string }) => {
    const { along, up, width, height } = item;
    const rect = { along, up, width, height };
    return { key: `${kind} ${item.id}`, kind, id: item.id, noun: item.kind, rect, moves: 'both' } as const;
  };
  const all: readonly Thing[] = [
    ...openings.map(ofRect('opening')),
    ...listLines(survey),
    ...boxes.map(ofRect('box')),
    ...survey.readings.map(({ id, along, up }) => {
      const rect = { along, up, width: 0, height: 0 };
      return { key: `reading ${id}`, kind: 'reading', id, noun: 'reading', rect, moves: 'both' } as const;
    }),
  ];
  return all.filter(({ kind }) => kinds.includes(kind));
}

const replaceById = <T extends { readonly id: string }>(items: readonly T[], id: string, part: Partial<T>) =>
  items.map((item) => (item.id === id ? { ...item, ...part } : item));

/** The survey with a thing put elsewhere on the wall, or to another size; the same survey where that is what it was. */
export function placeThing(survey: Survey, thing: Thing, rect: WallRect): Survey {
  const { along, up, width, height } = rect;
  const was = thing.rect;
  if (along === was.along && up === was.up && width === was.width && height === was.height) return survey;
  const { wall } = survey;
  const part = { along, up, width, height };
  switch (thing.kind) {
    case 'opening':
      return { ...survey, wall: { ...wall, openings: replaceById(wall.openings, thing.id, part) } };
    case 'box':
      return { ...survey, wall: { ...wall, boxes: replaceById(wall.boxes, thing.id, part) } };
    case 'reading':
      return setReading(survey, thing.id, { along, up });
    case 'line': {
      const at = thing.moves === 'up' ? up : along;
      return thing.of ? setSheet(survey, thing.of.photo, thing.of.line, { at }) : survey;
    }
  }
}

/** The survey without a thing; a line is taken away in its photo, not here. */
export function removeThing(survey: Survey, { kind, id }: Thing): Survey {
  const { wall, readings } = survey;
  const others = <T extends { readonly id: string }>(items: readonly T[]) =>
    items.filter((item) => item.id !== id);
  if (kind === 'opening') return { ...survey, wall: { ...wall, openings: others(wall.openings) } };
  if (kind === 'box') return { ...survey, wall: { ...wall, boxes: others(wall.boxes) } };
  return kind === 'reading' ? { ...survey, readings: others(readings) } : survey;
}
