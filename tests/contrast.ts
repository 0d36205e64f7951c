/**
 * Relative luminance of an sRGB colour (#rgb or #rrggbb), 0 to 1. Source: WCAG 2.2, definition of relative luminance (with
 * 0.04045 in place of its 0.03928, which no 8-bit colour can tell apart).
 */
export function luminanceOf(colour: string): number {
  const long = colour.length === 4 ? colour.replace(/[0-9a-f]/gi, '$&$&') : colour;
  const [red, green, blue] = [1, 3, 5].map((at) => {
    const share = parseInt(long.slice(at, at + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red! + 0.7152 * green! + 0.0722 * blue!;
}

/** Contrast of two colours, 1 to 21. Source: WCAG 2.2, definition of contrast ratio. */
export function contrastOf(one: string, other: string): number {
  const [darker, lighter] = [luminanceOf(one), luminanceOf(other)].sort((a, b) => a - b);
  return (lighter! + 0.05) / (darker! + 0.05);
}
