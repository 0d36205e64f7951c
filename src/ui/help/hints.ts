/** One short hint for the first visit of each screen, by its heading; the picture of a photo goes under `Photo`. */
export const hints: Readonly<Record<string, string>> = {
  Surveys: 'One survey for each wall. All is kept on this device only: save a ZIP after each day.',
  Wall: 'Measure from the left end and from the floor, as you face the wall. Rough is enough to begin with.',
  Readings: 'Hold the rule square to the wall and read it where the upright light crosses it.',
  Photos: 'Lines and tape in view, the phone a third of the distance above, below or beside the line.',
  Photo:
    'Two fingers or the wheel zoom the picture. Tap what you want to put right; every step can be undone.',
  Surface: 'See what does not agree before you trust the depths. One wrong mark shows up here by name.',
  Lining: 'Begin with Plane and bed. All other parts follow it when it changes.',
  'Report of the surface': 'What each figure rests on. It prints with all its parts open.',
  Papers: 'Save the ZIP as well as the plan: it is the only copy that outlasts this browser.',
};
