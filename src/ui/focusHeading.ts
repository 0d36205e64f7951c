/** Puts the keys on the heading of the screen (on the screen itself while it has none), without moving what is seen. */
export function focusHeading(main: HTMLElement): void {
  const heading = main.querySelector('h1') ?? main;
  heading.tabIndex = -1;
  heading.focus({ preventScroll: true });
}
