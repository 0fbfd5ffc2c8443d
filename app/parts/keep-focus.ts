/** What can have the focus, or is read from when it comes there. */
const PLACES = 'a[href], button, input, select, textarea, summary, h1, h2, h3, [tabindex]';
/** A page that turns sets the focus itself, after it was drawn. */
const PAGE_TURNS_MS = 120;
/** A button that is out of use while something is worked out may come back, or a page in its place. */
const WORK_MS = 2500;

const isOut = (place: HTMLElement): boolean => place.matches(':disabled');
const isSeen = (place: HTMLElement): boolean => !isOut(place) && (place.checkVisibility?.() ?? true);
const wrongField = (): HTMLElement | undefined => [...document.querySelectorAll<HTMLElement>('input[aria-invalid=true]')].find(isSeen);

let isKept = false;

/**
 * Keeps the focus from falling out of the page. When a press takes away the
 * very button that was pressed, or puts it out of use, a browser leaves the
 * focus nowhere: a keyboard starts anew at the top, and a screen reader falls
 * silent. It then goes to what is wrong, else to what has come in its place,
 * else to its neighbour.
 * @param pressed what the press that brought this in was on; it may be gone by now.
 */
export function keepFocus(pressed?: EventTarget | null): void {
  if (isKept) return;
  isKept = true;
  /** What had the focus, what it stood in from the inside out, and all that could have had it then. */
  let last: HTMLElement | undefined;
  let around: Element[] = [];
  let known: HTMLElement[] = [];
  let timer: ReturnType<typeof setTimeout> | undefined;
  /** Seen to be gone, out of use or moved. The browser itself takes the focus away only some time after. */
  let isLost = false;

  const remember = (at: EventTarget | null) => {
    const place = at instanceof Element ? at.closest<HTMLElement>(PLACES) : null;
    clearTimeout(timer);
    if (!place) return;
    isLost = false;
    last = place;
    known = placesIn(document.documentElement);
    around = [];
    for (let at = place.parentElement; at; at = at.parentElement) around.push(at);
  };
  const land = () => {
    if (document.activeElement !== document.body || !last) return;
    const place = last.isConnected && !isOut(last) ? last : landing(last, around, known);
    if (!place) return;
    if (/^H\d$/.test(place.tagName)) place.tabIndex = -1;
    place.focus();
  };

  const look = (changes: readonly MutationRecord[]) => {
    const held = last;
    if (!held) return;
    isLost ||= !held.isConnected || isOut(held) || changes.some((c) => [...c.removedNodes].some((node) => node.contains(held)));
    if (!isLost) return;
    clearTimeout(timer);
    timer = setTimeout(land, held.isConnected && isOut(held) && !wrongField() ? WORK_MS : PAGE_TURNS_MS);
  };

  remember(document.activeElement === document.body ? (pressed ?? null) : document.activeElement);
  look([]);
  document.addEventListener('focusin', (event) => remember(event.target));
  new MutationObserver(look).observe(document.documentElement, { childList: true, subtree: true, attributeFilter: ['disabled'] });
}

const placesIn = (part: Element): HTMLElement[] => [...part.querySelectorAll<HTMLElement>(PLACES)];

/** Where the focus goes from a place that is lost. */
function landing(lost: HTMLElement, around: readonly Element[], known: readonly HTMLElement[]): HTMLElement | undefined {
  const wrong = wrongField();
  if (wrong) return wrong;
  const was = known.indexOf(lost);
  for (const part of around.filter((a) => a.isConnected)) {
    const here = placesIn(part).filter(isSeen);
    const fresh = here.find((place) => !known.includes(place));
    const near = [...known.slice(was + 1), ...known.slice(0, was).reverse()].find((place) => here.includes(place));
    if (fresh || near) return fresh ?? near;
  }
  return undefined;
}
