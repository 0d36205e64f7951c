import { usualBed } from '../../app/newSurvey.ts';
import { defaultSettings } from '../../core/lining/defaults.ts';
import LiningPicture from './pictures/LiningPicture.svelte';
import { liningCautions, siteCautions, waySentences } from '../words.ts';
import { cautionSentences, sayMinutes } from '../workWords.ts';
import type { HelpSection } from './sections.ts';

const usual = defaultSettings();
const percent = (share: number) => `${Math.round(100 * share)} %`;

/** The help on what comes of the survey, and on the work with it. Figures are those a survey starts with. */
export const results: readonly HelpSection[] = [
  {
    id: 'uncertainty',
    title: 'What the ± means',
    blocks: [
      'A depth of 12 mm ± 1 mm: two times in three the masonry is within 1 mm of it, nineteen times in twenty within 2 mm. It counts everything that is known to be uncertain: marks, phone, lens, line, rule, and how rough the wall is between the lines.',
      {
        list: [
          'Small near lines and readings, larger between them, largest at the edges of the wall.',
          'More readings help against a wrong lean. More lines help against what may hide between them.',
          'What contradicts the rest is named, with the amount by which it seems wrong. Put it right or leave it out; a line with the wrong height is the usual cause.',
          'It does not know of a wall that changed since, or of plaster that sounds hollow.',
        ],
      },
    ],
  },
  {
    id: 'verdicts',
    title: 'What the verdict means',
    picture: LiningPicture,
    blocks: [
      `The bed is the room between masonry and board. A survey starts with ${usualBed.min} mm at least, ${usualBed.max} mm at most for adhesive alone, and ${usualBed.packedMax} mm at most with strips of board packed under it (common practice). All three are yours to change under Lining, Plane and bed.`,
      {
        list: [
          waySentences.direct_bond,
          waySentences.pack_first,
          waySentences.frame_or_plaster,
          `${liningCautions.high_point_unsure} High spots to hack off are listed with what each of them saves.`,
        ],
      },
      'A gauge screw stands out from the masonry by as much as its row of the list says; the back of the board comes to rest on its head. Set the screws, lay a straightedge across them, and correct any that stands proud before the first mix.',
    ],
  },
  {
    id: 'adhesive',
    title: 'Adhesive and its time',
    blocks: [
      `Powder into water, not water into powder: ${usual.waterLPerKg} L for each kilogram, a rest of ${usual.restMin} min, then stir. Reckon with ${usual.potLifeMin} min from the powder in the water until the last dab is pressed; warm water, a dirty bucket or old powder make it shorter.`,
      {
        list: [
          `A small first mix (${usual.trialMixKg} kg) tries powder and pace. No later one is over ${usual.mixMostKg} kg.`,
          cautionSentences.no_retemper,
          `Pressed dabs and strips touch about ${percent(usual.coverageShare)} of the board. A continuous strip runs along the bottom and round openings and boxes, without a gap.`,
          `Boards stand on packers, ${usual.floorGapMm} mm off the floor, until the adhesive has set: ${sayMinutes(usual.packersOutMin)} at least. Joints wait ${sayMinutes(usual.jointsMin)}.`,
          `Not on a wall under ${usual.wallLeastC} °C. ${cautionSentences.temperature}`,
        ],
      },
      'What the bag says comes before these figures: type it under Lining, Settings, and the plan follows.',
    ],
  },
  {
    id: 'check',
    title: 'What to check at the end',
    blocks: [
      {
        list: [
          'A long straightedge laid level, plumb and both ways aslant: note the widest gap.',
          'A level on each board’s edge, and a laser line along the whole face.',
          'Joints: the two boards flush, no step under a short straightedge.',
          'Strips along the bottom, round openings and boxes closed; the ceiling gap sealed.',
          'Boxes at the depth of the new face, packers out, gap at the floor free.',
          'Tick the steps off in the order of work, and save the survey as a ZIP with the as-built notes.',
        ],
      },
    ],
  },
  {
    id: 'cautions',
    title: 'Take care',
    blocks: [
      {
        list: [
          ...siteCautions,
          'Your country sets a limit for respirable silica dust and says which work needs suction, water or a mask. Keep to it, and keep others out of the dust.',
          cautionSentences.heavy_loads,
          cautionSentences.live_boxes,
          liningCautions.party_wall_sound,
        ],
      },
    ],
  },
  {
    id: 'keeping',
    title: 'Keeping the work',
    blocks: [
      'Each change is saved on this device at once. A browser may clear what it keeps, so save the survey as a ZIP under Papers after each day’s work; it opens on any other device.',
      'Once the page has been open with a network it works without one, this help included. Photos carry where they were taken: that is left out of everything saved here.',
    ],
  },
];
