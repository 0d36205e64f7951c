/** The keys that work on the picture of a photo, as they are written on the keyboard, and what each does. */
export const pictureKeys: readonly (readonly [key: string, does: string])[] = [
  ['+ −', 'show it nearer, further'],
  ['0', 'show the whole picture'],
  ['Z', 'show what is picked close'],
  ['. ,', 'pick the next, the previous point of the line'],
  ['N P', 'go to the next, the previous suspect'],
  [
    'Arrows',
    'move what is picked by a quarter of a pixel, with Shift by two; with nothing picked, move the picture',
  ],
  ['Enter', 'place a point, mark or pin; begin and end a gap'],
  ['A', 'take the suspect as right'],
  ['O', 'leave the point out, or use it again'],
  ['Delete', 'take the point or mark away'],
  ['H', 'hide the points, or show them'],
  ['1 2 3 4 5 6', 'take the tools Move, Push, Add, Erase, Gap, Pin'],
  ['7', 'go to the suspects'],
  ['[ ]', 'make the brush smaller, larger'],
  ['Space', 'held down: the mouse moves the picture, whatever tool is taken'],
  ['Escape', 'stop what was begun; put the tool down; pick nothing'],
];

/** The keys that work everywhere. */
export const pageKeys: readonly (readonly [key: string, does: string])[] = [
  ['Ctrl Z', 'undo'],
  ['Ctrl Y, or Ctrl Shift Z', 'redo'],
  ['Tab', 'go on to the next field or button; the first Tab of a page offers to skip to the work'],
];
