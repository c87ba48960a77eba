/** Takes the focus to `place` when whatever had it is no longer on the page: with the keyboard one goes on from there. */
export function holdFocus(place: Element | null | undefined): void {
  if (document.activeElement === document.body && place instanceof HTMLElement) place.focus();
}
