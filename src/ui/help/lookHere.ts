import { createContext } from 'svelte';
import type { Look } from '../../app/look.svelte.ts';

/** How the page looks on this device; the page's root hands it down to what it shows. */
export const [lookHere, handLookDown] = createContext<Look>();
