import { useRef, useState } from 'preact/hooks';
import { Page } from '../../parts/page.tsx';
import { press } from '../../parts/press.ts';
import { t } from '../../words/i18n.ts';
import type { Touch } from './gestures.ts';
import { begun, extended, NO_OUTLINE, type Outline, pathOf, pulled, refined, undone, wiped } from './outline.ts';
import { Stage } from './stage.tsx';
import { middleOf, type PictureSize, type Spot, type View, viewAround } from './view.ts';

export const MODES = ['draw', 'mend', 'points'] as const;
type Mode = (typeof MODES)[number];

/** Places of a line drawn by finger are at least so many px of the screen apart. */
const APART_SCREEN_PX = 3;
/** How far a pull at the line reaches, in px of the screen. */
const REACH_SCREEN_PX = 56;
/** Fewer places make no edge. */
const LEAST_SPOTS = 3;

interface Props {
  url: string;
  size: PictureSize;
  /** Where to look first. */
  near: readonly Spot[];
  /** A line drawn earlier. */
  started: readonly Spot[];
  /** What is wrong with the line as it is, in words. */
  trouble?: string | undefined;
  /** Told of every act, to be kept. */
  onSpots: (spots: readonly Spot[]) => void;
  onDone: (spots: readonly Spot[]) => void;
  onBack: () => void;
  /** The scale that was found, drawn so that the person sees it was. */
  scale: readonly Spot[];
}

/** The edge of a wound, drawn with a finger, a pen, or point by point. Every act can be undone, and the line pulled into place. */
export function DrawEdge({ url, size, near, started, trouble, onSpots, onDone, onBack, scale }: Props) {
  const [view, setView] = useState<View>(() => viewAround(near, size));
  const [mode, setMode] = useState<Mode>('draw');
  const [outline, setOutline] = useState<Outline>(() => ({ ...NO_OUTLINE, spots: started }));
  const [held, setHeld] = useState<Spot>();
  const now = useRef(outline);
  const put = (next: Outline) => {
    now.current = next;
    setOutline(next);
  };
  const act = (next: Outline) => {
    put(next);
    onSpots(next.spots);
  };

  const drawing: Touch = {
    down: (at, px) => put(extended(begun(now.current), at, APART_SCREEN_PX * px)),
    move: (at, _by, px) => put(extended(now.current, at, APART_SCREEN_PX * px)),
    up: () => onSpots(now.current.spots),
    cancel: () => act(undone(now.current)),
  };
  const mending: Touch = {
    down: (at, px) => {
      put({ ...begun(now.current), spots: refined(now.current.spots, REACH_SCREEN_PX * px * 0.2) });
      setHeld(at);
    },
    move: (at, by, px) => {
      put(pulled(now.current, { x: at.x - by.x, y: at.y - by.y }, by, REACH_SCREEN_PX * px));
      setHeld(at);
    },
    up: () => {
      setHeld(undefined);
      onSpots(now.current.spots);
    },
    cancel: () => {
      setHeld(undefined);
      act(undone(now.current));
    },
  };
  const putPoint = () => act(extended(begun(now.current), middleOf(view, size), 0.5));
  const undo = () => act(undone(now.current));
  const enough = outline.spots.length >= LEAST_SPOTS;

  return (
    <Page
      title={t('photo:edgeTitle')}
      back={onBack}
      class="page-stage"
      foot={
        <>
          {trouble && (
            <p class="error" role="alert">
              {trouble}
            </p>
          )}
          <button type="button" class="button button-main" disabled={!enough} onClick={() => onDone(outline.spots)}>
            {t('photo:edgeDone')}
          </button>
        </>
      }
    >
      <p class="stage-how">{t(`photo:mode.${mode}.how`)}</p>
      <Stage
        url={url}
        size={size}
        view={view}
        onView={setView}
        touch={mode === 'draw' ? drawing : mode === 'mend' ? mending : undefined}
        label={t('photo:stage')}
        cross={mode === 'points'}
        onEnter={putPoint}
        onUndo={undo}
        loupe={held}
      >
        <path class="scale-under" d={pathOf(scale, true)} />
        <path class="scale-found" d={pathOf(scale, true)} />
        <path class="trace-under" d={pathOf(outline.spots, true)} />
        <path class="trace" d={pathOf(outline.spots, true)} />
        {mode === 'points' && outline.spots.map((s, i) => <circle key={i} class="trace-spot" cx={s.x} cy={s.y} r={view.width / 120} />)}
      </Stage>
      {mode === 'points' && (
        <button type="button" class="button button-second" onClick={putPoint}>
          {t('photo:putPoint')}
        </button>
      )}
      <fieldset class="modes">
        <legend class="unseen">{t('photo:modes')}</legend>
        {MODES.map((m) => (
          <label key={m}>
            <input type="radio" name="mode" value={m} checked={mode === m} onChange={() => setMode(m)} />
            <span>{t(`photo:mode.${m}.name`)}</span>
          </label>
        ))}
      </fieldset>
      <div class="stage-acts">
        <button type="button" class="button button-second" {...press(undo, outline.before.length === 0)}>
          {t('photo:undo')}
        </button>
        <button type="button" class="button button-second" {...press(() => act(wiped(now.current)), outline.spots.length === 0)}>
          {t('photo:wipe')}
        </button>
      </div>
      <p class="unseen" role="status">
        {t('photo:spots', { count: outline.spots.length })}
      </p>
    </Page>
  );
}
