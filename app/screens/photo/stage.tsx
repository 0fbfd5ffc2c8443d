import type { ComponentChildren } from 'preact';
import { useRef } from 'preact/hooks';
import { t } from '../../words/i18n.ts';
import { type Touch, useGestures } from './gestures.ts';
import { heightOf, middleOf, moved, type PictureSize, type Spot, type View, wholeView, zoomed } from './view.ts';

interface Props {
  url: string;
  size: PictureSize;
  view: View;
  onView: (view: View) => void;
  /** Without it one finger moves the picture. */
  touch?: Touch | undefined;
  label: string;
  /** Drawn over the picture, in its px. */
  children?: ComponentChildren;
  /** A cross in the middle, to put points under with keys or a button. */
  cross?: boolean;
  onEnter?: (() => void) | undefined;
  onUndo?: (() => void) | undefined;
  /** The place to show enlarged, while a finger hides it. */
  loupe?: Spot | undefined;
}

const STEP = 1.5;
/** How far an arrow key moves the picture, as a share of what is on screen; with Shift ten times as far. */
const KEY_SHARE = 0.01;

const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [1, 0],
  ArrowRight: [-1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

/** The view that a key asks for. */
function viewByKey(key: string, far: boolean, view: View, size: PictureSize): View | undefined {
  const arrow = ARROWS[key];
  const step = view.width * KEY_SHARE * (far ? 10 : 1);
  if (arrow) return moved(view, { x: arrow[0] * step, y: arrow[1] * step }, size);
  if (key === '+' || key === '=') return zoomed(view, STEP, middleOf(view, size), size);
  return key === '-' ? zoomed(view, 1 / STEP, middleOf(view, size), size) : undefined;
}

/**
 * A picture to look at closely and to draw on. Two fingers zoom and move it;
 * so do the buttons, and on a keyboard the arrows, + and −.
 */
export function Stage(props: Props) {
  const { url, size, view, onView, touch, label, children, cross, loupe } = props;
  const svg = useRef<SVGSVGElement>(null);
  const gestures = useGestures(svg, { size, view, onView, touch });
  const middle = middleOf(view, size);
  const key = (event: KeyboardEvent) => {
    const next = viewByKey(event.key, event.shiftKey, view, size);
    const act = event.key === 'Enter' ? props.onEnter : event.key === 'Backspace' ? props.onUndo : undefined;
    if (!next && !act) return;
    event.preventDefault();
    if (next) onView(next);
    else act?.();
  };
  return (
    <div class="stage">
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: it takes the arrow keys, Enter and Backspace; every act has a button besides. */}
      {/* biome-ignore lint/a11y/useSemanticElements: no set of fields, but one thing to work on. */}
      <div class="stage-keys" role="group" aria-label={label} tabIndex={0} onKeyDown={key}>
        <svg ref={svg} viewBox={`${view.x} ${view.y} ${view.width} ${heightOf(view, size)}`} aria-hidden="true" {...gestures}>
          <image href={url} width={size.widthPx} height={size.heightPx} />
          {children}
          {cross && <Cross at={middle} arm={view.width / 14} />}
        </svg>
        {loupe && (
          <Loupe at={loupe} url={url} size={size} view={view}>
            {children}
          </Loupe>
        )}
      </div>
      <div class="stage-zoom">
        <ZoomButton label={t('photo:zoomOut')} sign="M5 12h14" onClick={() => onView(zoomed(view, 1 / STEP, middle, size))} />
        <ZoomButton label={t('photo:zoomWhole')} sign="M4 9V4h5M20 9V4h-5M4 15v5h5M20 15v5h-5" onClick={() => onView(wholeView(size))} />
        <ZoomButton label={t('photo:zoomIn')} sign="M5 12h14M12 5v14" onClick={() => onView(zoomed(view, STEP, middle, size))} />
      </div>
    </div>
  );
}

function ZoomButton({ label, sign, onClick }: { label: string; sign: string; onClick: () => void }) {
  return (
    <button type="button" aria-label={label} onClick={onClick}>
      <svg viewBox="0 0 24 24" aria-hidden="true">
        <path d={sign} />
      </svg>
    </button>
  );
}

/** A cross with an open middle, so that it hides nothing. */
function Cross({ at: { x, y }, arm }: { at: Spot; arm: number }) {
  const [long, gap] = [arm * 0.75, arm * 0.5];
  return (
    <g class="stage-cross">
      <path d={`M${x - arm} ${y}h${long}m${gap} 0h${long}M${x} ${y - arm}v${long}m0 ${gap}v${long}`} />
    </g>
  );
}

interface LoupeProps {
  at: Spot;
  url: string;
  size: PictureSize;
  view: View;
  children?: ComponentChildren;
}

/** What the finger hides, larger, in the corner away from it. */
function Loupe({ at, url, size, view, children }: LoupeProps) {
  const width = view.width / 7;
  const side = at.x < view.x + view.width / 2 ? 'right' : 'left';
  return (
    <svg class={`loupe loupe-${side}`} viewBox={`${at.x - width / 2} ${at.y - width / 2} ${width} ${width}`} aria-hidden="true">
      <image href={url} width={size.widthPx} height={size.heightPx} />
      {children}
      <Cross at={at} arm={width / 6} />
    </svg>
  );
}
