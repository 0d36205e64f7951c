import { bring } from './firstSteps.ts';
import LaserPicture from './pictures/LaserPicture.svelte';
import ReadingPicture from './pictures/ReadingPicture.svelte';
import TapePicture from './pictures/TapePicture.svelte';
import type { HelpSection } from './sections.ts';

/** The help on what is done at the wall before a photo is taken. */
export const measuring: readonly HelpSection[] = [
  {
    id: 'bring',
    title: 'What to bring',
    blocks: [
      bring,
      {
        list: [
          'The laser throws a level and an upright line. Green shows better than red by daylight; either will do. Class 2 at most.',
          'The tape is flat, stiff enough to lie straight, and as long as the stretch of wall that one photo shows.',
          'The rule is stiff and begins at 0 at its very end. A folding rule or a steel rule, not the tape.',
          'Painter’s tape, or two pins in the joints, hold the tape. Nothing may stand between tape and wall.',
          'A packer of known thickness (10 to 25 mm) may be held on the line in one photo: it checks the scale of the depths.',
          'A pencil, a second tape for heights, and this phone, charged.',
        ],
      },
      'Darken the room if you can. Take loose plaster and paper off first: what falls off later was measured for nothing.',
    ],
  },
  {
    id: 'laser',
    title: 'Setting up the laser',
    picture: LaserPicture,
    blocks: [
      'Two jobs, one after the other. For the readings the laser throws its upright light along the wall, like a second wall of light in front of it. For the photos it throws a line on the wall itself.',
      {
        list: [
          'For the readings: stand it at one end, as close to the wall as it can see past the highest spot, 40 to 100 mm off as a rule. Turn it until the light is about as far from the wall at both ends. Parallel to a millimetre is not needed.',
          'Let it settle, and do not touch it again until the last reading is taken. If it was knocked, take all readings anew.',
          'For the photos: a level line, square to the wall as the laser throws it, or an upright one from a laser that faces the wall. The middle of the room is a good place.',
          'Measure the height of each level line above the floor’s zero at both ends, and of each upright line how far it stands from the left end.',
          'Check the laser now and then: a mark on a wall 5 m off, seen with the laser turned about at the same place, should not move by more than its maker allows.',
        ],
      },
    ],
  },
  {
    id: 'reading',
    title: 'Taking a reading',
    picture: ReadingPicture,
    blocks: [
      'A reading is the distance from the wall of light back to the masonry. Hold the end of the rule on the masonry, square to it, and read the rule in the middle of the light, to half a millimetre.',
      {
        list: [
          'Three readings are the least, and not in one line. Six are usual: two ends and the middle, low and high.',
          'Best where a line runs that is photographed too: there the reading ties the photo to the wall of light.',
          'Type where it was taken, from the left end and from the floor; to a centimetre is enough.',
          'On a joint or a crumb of mortar the rule tells of the joint. Set it on the face of a brick or on plain plaster.',
        ],
      },
      'Without readings the shape of the wall is still found, but not how far it leans.',
    ],
  },
  {
    id: 'tape',
    title: 'Fixing the tape',
    picture: TapePicture,
    blocks: [
      'The tape tells the photo where on the wall each of its parts is. Fix it flat on the wall, straight and level (or plumb beside an upright line), 20 to 150 mm from the line so that both are sharp together.',
      {
        list: [
          'Its zero at the left end of the wall saves sums; any other start will do if you type the true distances.',
          'Measure how high the tape is above the floor: marks need both numbers.',
          'No bulge, no twist, no hand in front of it.',
        ],
      },
    ],
  },
];
