import { pageKeys, pictureKeys } from './keys.ts';
import PhotoPicture from './pictures/PhotoPicture.svelte';
import StandPicture from './pictures/StandPicture.svelte';
import type { HelpSection } from './sections.ts';

/** The help on photographs: taking, marking and putting them right. */
export const photographs: readonly HelpSection[] = [
  {
    id: 'stand',
    title: 'Where to stand with the phone',
    picture: StandPicture,
    blocks: [
      'The line shows the wall’s hollows because you look at it from the side: from above or below for a level line, from the left or right for an upright one. Seen from within its own light it looks straight whatever the wall does.',
      {
        list: [
          'A third of the distance aside is the least. From 2400 mm off, hold the phone 800 mm or more above or below the line. Half is better.',
          'The phone faces the wall about squarely. It need not be level.',
          'Use the phone’s main camera at its own zoom (1×), full size, no wide or portrait mode. Tap the line so that the focus is there.',
          'Type the distance off the wall and the height of the lens, to a centimetre. With four good marks you may leave them out.',
          'Send yourself the file, not a message: messengers shrink pictures.',
        ],
      },
      'On Photos, the guide before the photo says what a photo from a given place will be worth.',
    ],
  },
  {
    id: 'lines',
    title: 'How many lines, and where',
    blocks: [
      {
        list: [
          'Level lines about every half metre of height: near the floor, near the ceiling, and two or three between. Each is one photo, or more side by side on a long wall.',
          'Two or three upright lines, near both ends and in the middle. Where they cross the level ones the photos check each other and the phone’s lens.',
          'A line across each place that worries you: a bulge, a repair, beside a window.',
          'Between lines the wall is foretold from what its roughness is like. The surface says where one more line or reading tells most.',
        ],
      },
    ],
  },
  {
    id: 'marks',
    title: 'Naming marks on the tape',
    picture: PhotoPicture,
    blocks: [
      'A mark is one graduation of the tape, picked in the photo, with its place on the wall. Two and where the phone stood are the least; four are usual, spread over the whole tape.',
      {
        list: [
          'Zoom in until the stroke is as thick as your finger. The magnifier shows what the finger hides.',
          'Mark the middle of the stroke where it meets the edge of the tape nearest the line.',
          'Tell which marks lie on one tape: its other graduations are then read by themselves, and a wrong name is found out.',
          'What must not be taken for the line (a cable, a shelf, glare) can be covered.',
        ],
      },
    ],
  },
  {
    id: 'points',
    title: 'Putting points right',
    blocks: [
      'Points that look wrong are drawn as rings: suspects. They are used until you say otherwise; go through them and take each as right or leave it out.',
      {
        list: [
          'Drag a point, or pick it and push it by the arrows. What it does to the wall is said at once, in millimetres.',
          'A gap is a stretch where there is no wall or no line: a window, a pipe, a shadow. Nothing is made up in it.',
          'A pin is a place where the line does pass. The line is looked for again through it.',
          'Points you moved or added stay as you set them when the line is looked for again.',
          'Each gesture is one step. Undo takes it back, and nothing is ever gone for good.',
        ],
      },
      'Keys on the picture:',
      { table: pictureKeys },
      'Keys everywhere:',
      { table: pageKeys },
    ],
  },
];
