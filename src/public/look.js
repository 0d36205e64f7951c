// Before the first paint: the look, hand and size of buttons last chosen on this device (src/app/look.svelte.ts keeps them).
/** @type {Record<string, unknown>} */
let kept = {};
try {
  kept = JSON.parse(localStorage.getItem('bedplane look') ?? '{}') ?? {};
} catch {
  // nothing kept, or not to be read: as the device says
}
const { dataset } = document.documentElement;
const dark = matchMedia('(prefers-color-scheme: dark)').matches;
dataset.look = kept.look === 'dark' || (kept.look !== 'light' && dark) ? 'dark' : 'light';
dataset.hand = kept.hand === 'left' ? 'left' : 'right';
dataset.size = kept.size === 'large' ? 'large' : 'usual';
