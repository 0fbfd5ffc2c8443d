/** A place in a picture, px from its top left corner. */
export interface Spot {
  x: number;
  y: number;
}

/** The part of a picture that is on screen, px of the picture. It has the shape of the picture. */
export interface View extends Spot {
  width: number;
}

export interface PictureSize {
  widthPx: number;
  heightPx: number;
}

/** At most so many times the whole picture: beyond it there are only blurred dots. */
const ZOOM_MOST = 12;

const between = (value: number, least: number, most: number): number => Math.min(Math.max(value, least), most);

export const wholeView = (size: PictureSize): View => ({ x: 0, y: 0, width: size.widthPx });

export const heightOf = (view: View, size: PictureSize): number => (view.width * size.heightPx) / size.widthPx;

export const middleOf = (view: View, size: PictureSize): Spot => ({
  x: view.x + view.width / 2,
  y: view.y + heightOf(view, size) / 2,
});

/** Keeps the middle of the view on the picture, so that every edge of it can be brought to the middle. */
function held(view: View, size: PictureSize): View {
  const width = between(view.width, size.widthPx / ZOOM_MOST, size.widthPx);
  const height = (width * size.heightPx) / size.widthPx;
  return {
    width,
    x: between(view.x, -width / 2, size.widthPx - width / 2),
    y: between(view.y, -height / 2, size.heightPx - height / 2),
  };
}

/** Makes the picture `times` larger or smaller; the place `at` stays where it is on screen. */
export function zoomed(view: View, times: number, at: Spot, size: PictureSize): View {
  const width = between(view.width / times, size.widthPx / ZOOM_MOST, size.widthPx);
  const share = width / view.width;
  return held({ width, x: at.x - (at.x - view.x) * share, y: at.y - (at.y - view.y) * share }, size);
}

/** Moves the picture under the screen by so many px of the picture. */
export const moved = (view: View, by: Spot, size: PictureSize): View => held({ ...view, x: view.x - by.x, y: view.y - by.y }, size);

/** The view around some places, with room around them. */
export function viewAround(spots: readonly Spot[], size: PictureSize): View {
  if (spots.length === 0) return wholeView(size);
  const xs = spots.map((s) => s.x);
  const ys = spots.map((s) => s.y);
  const middle = { x: (Math.min(...xs) + Math.max(...xs)) / 2, y: (Math.min(...ys) + Math.max(...ys)) / 2 };
  const needed = Math.max(Math.max(...xs) - Math.min(...xs), ((Math.max(...ys) - Math.min(...ys)) * size.widthPx) / size.heightPx) * 1.8;
  const width = between(needed, size.widthPx / ZOOM_MOST, size.widthPx);
  return held({ width, x: middle.x - width / 2, y: middle.y - (width * size.heightPx) / size.widthPx / 2 }, size);
}
