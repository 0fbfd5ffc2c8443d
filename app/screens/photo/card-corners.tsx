import { useRef, useState } from 'preact/hooks';
import { Page } from '../../parts/page.tsx';
import { press } from '../../parts/press.ts';
import { t } from '../../words/i18n.ts';
import type { Touch } from './gestures.ts';
import { pathOf } from './outline.ts';
import { Stage } from './stage.tsx';
import { middleOf, type PictureSize, type Spot, wholeView } from './view.ts';

const CORNERS = 4;
/** A corner nearer than this to the finger, in px of the screen, is taken up and moved. */
const TAKE_SCREEN_PX = 36;

interface Props {
  url: string;
  size: PictureSize;
  started: readonly Spot[];
  trouble?: string | undefined;
  onSpots: (spots: readonly Spot[]) => void;
  onDone: (corners: readonly Spot[]) => void;
  onBack: () => void;
}

/** The four corners of a card, tapped in any order and pulled into place. */
export function CardCorners({ url, size, started, trouble, onSpots, onDone, onBack }: Props) {
  const [view, setView] = useState(() => wholeView(size));
  const [corners, setCorners] = useState<readonly Spot[]>(started);
  const [held, setHeld] = useState<number>();
  const now = useRef({ corners, held: undefined as number | undefined, before: corners });
  const put = (next: readonly Spot[]) => {
    now.current.corners = next;
    setCorners(next);
  };
  const hold = (index: number | undefined) => {
    now.current.held = index;
    setHeld(index);
  };
  const touch: Touch = {
    down: (at, px) => {
      now.current.before = now.current.corners;
      const near = now.current.corners.findIndex((c) => Math.hypot(c.x - at.x, c.y - at.y) < TAKE_SCREEN_PX * px);
      if (near >= 0) return hold(near);
      if (now.current.corners.length >= CORNERS) return;
      hold(now.current.corners.length);
      put([...now.current.corners, at]);
    },
    move: (_at, by) => {
      const { held: index } = now.current;
      if (index !== undefined) put(now.current.corners.map((c, i) => (i === index ? { x: c.x + by.x, y: c.y + by.y } : c)));
    },
    up: () => {
      hold(undefined);
      onSpots(now.current.corners);
    },
    cancel: () => {
      hold(undefined);
      put(now.current.before);
    },
  };
  const add = () => {
    if (corners.length >= CORNERS) return;
    put([...corners, middleOf(view, size)]);
    onSpots(now.current.corners);
  };
  const undo = () => {
    put(corners.slice(0, -1));
    onSpots(now.current.corners);
  };
  const isWhole = corners.length === CORNERS;
  return (
    <Page
      title={t('photo:cardTitle')}
      back={onBack}
      class="page-stage"
      foot={
        <>
          {trouble && (
            <p class="error" role="alert">
              {trouble}
            </p>
          )}
          <button type="button" class="button button-main" disabled={!isWhole} onClick={() => onDone(corners)}>
            {t('common:next')}
          </button>
        </>
      }
    >
      <p class="stage-how">{t(isWhole ? 'photo:cardMend' : 'photo:cardHow')}</p>
      <Stage
        url={url}
        size={size}
        view={view}
        onView={setView}
        touch={touch}
        label={t('photo:stageCard')}
        onEnter={add}
        onUndo={undo}
        loupe={held === undefined ? undefined : corners[held]}
        cross
      >
        <path class="trace-under" d={pathOf(inRing(corners), isWhole)} />
        <path class="trace" d={pathOf(inRing(corners), isWhole)} />
        {corners.map((c, i) => (
          <circle key={i} class="trace-spot" cx={c.x} cy={c.y} r={view.width / 70} />
        ))}
      </Stage>
      <div class="stage-acts">
        <button type="button" class="button button-second" {...press(add, isWhole)}>
          {t('photo:putPoint')}
        </button>
        <button type="button" class="button button-second" {...press(undo, corners.length === 0)}>
          {t('photo:undo')}
        </button>
      </div>
      <p class="unseen" role="status">
        {t('photo:corners', { count: corners.length })}
      </p>
    </Page>
  );
}

/** Corners in the order round their middle, whatever order they were tapped in. */
export function inRing(spots: readonly Spot[]): Spot[] {
  const middle = { x: spots.reduce((s, p) => s + p.x, 0) / spots.length, y: spots.reduce((s, p) => s + p.y, 0) / spots.length };
  return [...spots].sort((a, b) => Math.atan2(a.y - middle.y, a.x - middle.x) - Math.atan2(b.y - middle.y, b.x - middle.x));
}
