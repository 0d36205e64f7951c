import { usualLayers, type PhotoLayers } from '../../draw/onPhoto/planOnPhoto.ts';

/** What is drawn onto photographs, the same from one photo to the next. */
export const shown = $state<{ layers: PhotoLayers }>({ layers: usualLayers });
