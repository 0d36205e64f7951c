import type { Photo, Survey } from '../core/survey.ts';
import type { PictureFacts } from '../file/exif.ts';
import { freeId, unknownPhone } from './newSurvey.ts';

/** What a picture tells of the camera that took it. */
export type CameraFacts = Pick<PictureFacts, 'camera' | 'focalMm' | 'focal35Mm' | 'digitalZoom'>;

/** Focal lengths further apart than this factor are of two lenses: makers define the 35 mm figure up to 6 % apart, a cut to 16:9 adds 9 %. */
const OTHER_LENS = 1.25;

const apart = (one: number | null, other: number | null) =>
  one !== null && other !== null && Math.max(one / other, other / one) > OTHER_LENS;

/**
 * Whether two pictures can have been taken through the same lens, by what they tell: the same phone, and the same focal length. A
 * digital zoom or a cut changes the 35 mm figure of a lens, never its own length; what is not told speaks against nothing.
 * @example isSameLens({ camera: 'A1', focalMm: 6, focal35Mm: 26, digitalZoom: null }, { camera: 'A1', focalMm: 2, focal35Mm: 13, digitalZoom: null }) // false
 */
export function isSameLens(one: CameraFacts, other: CameraFacts): boolean {
  if (one.camera !== null && other.camera !== null && one.camera !== other.camera) return false;
  if (one.focalMm !== null && other.focalMm !== null) return !apart(one.focalMm, other.focalMm);
  const zoomed = (one.digitalZoom ?? 1) > 1 || (other.digitalZoom ?? 1) > 1;
  return zoomed || !apart(one.focal35Mm, other.focal35Mm);
}

/** What to call a phone's entry: its make, and the lens where another one of it has an entry already. */
function nameOf({ camera, focal35Mm }: CameraFacts, survey: Survey, id: string): string {
  const name = camera ?? `Phone ${id.slice(1)}`;
  const taken = survey.phones.some((phone) => phone.name === name);
  return taken && focal35Mm ? `${name}, ${Math.round(focal35Mm)} mm lens` : name;
}

/**
 * The survey with an entry for the phone and lens that took a new picture, and which it is: that of the last photo taken
 * through the same lens, else a new one, since every lens bends lines its own way. `known` is what pictures of the survey
 * tell of their camera, by photo. The first photo of a survey gives its phone the name.
 */
export function takePhone(
  survey: Survey,
  facts: CameraFacts,
  known: ReadonlyMap<string, CameraFacts>,
): { survey: Survey; phone: string } {
  const tellOf = (photo: Photo): CameraFacts =>
    known.get(photo.id) ?? {
      camera: null,
      focalMm: null,
      focal35Mm: photo.focal35Mm ?? null,
      digitalZoom: null,
    };
  const phones = survey.phones.length > 0 ? survey.phones : [unknownPhone];
  const [first] = phones;
  if (survey.photos.length === 0) {
    const named =
      first!.name === unknownPhone.name && facts.camera ? { ...first!, name: facts.camera } : first!;
    return { survey: { ...survey, phones: [named, ...phones.slice(1)] }, phone: first!.id };
  }
  const like = survey.photos.findLast((photo) => isSameLens(facts, tellOf(photo)));
  if (like) return { survey, phone: like.phone };
  const id = freeId('p', phones);
  const phone = { ...unknownPhone, id, name: nameOf(facts, survey, id) };
  return { survey: { ...survey, phones: [...phones, phone] }, phone: id };
}
