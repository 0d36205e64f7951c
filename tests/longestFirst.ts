import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** Files that take more than half a minute: begun last, one of them would run alone at the end. */
const longFiles = [
  'core/solve/truthfulness',
  'core/solve/blunders',
  'vision/scenes',
  'headless',
  'core/solve/leftOut',
  'core/solve/accuracy',
  'core/solve/snoop',
  'core/lining/planLining',
];

/** Begins with the longest files, so that all cores are busy to the end. */
export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const rank = ({ moduleId }: TestSpecification) => {
      const at = longFiles.findIndex((name) => moduleId.endsWith(`/tests/${name}.test.ts`));
      return at < 0 ? longFiles.length : at;
    };
    return (await super.sort(files)).sort((a, b) => rank(a) - rank(b));
  }
}
